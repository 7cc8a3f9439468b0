export {
  type ArchiveOutcome,
  archiveRecordings,
} from './archive-folder.ts';
export { type CheckedRecording, checkArchive } from './check-archive.ts';
export { archivedOpening, openRecordingFile, recordingHash } from './open.ts';
export { type Removal, removeTexts } from './remove-texts.ts';

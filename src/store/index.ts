export {
  type ArchivedRecording,
  archivedIn,
  archiveFolder,
  keptRecordings,
  readArchive,
  recordingSource,
  writeArchive,
} from './archive-index.ts';
export { flushFolder, writeAtomically } from './atomic-write.ts';
export { readBriefingFolder } from './briefing-folder.ts';
export { DecisionError } from './decision-error.ts';
export { type Decision, type DecisionHistory, decisionHistory } from './decision-history.ts';
export type { KeptReading, Marks, StoredDecision } from './decision-schema.ts';
export { appendDecision, type DecisionCircumstances, type NewDecision, readDecisions } from './decisions.ts';
export { type MissingTerm, openEarlierTerms, termOf } from './earlier-terms.ts';
export {
  ExperimentFileError,
  type ReadExperiment,
  readExperiment,
  readExperimentFile,
  readExperimentText,
} from './experiment-file.ts';
export {
  ExperimentChangedError,
  StoreError,
  saveExperimentText,
  textHash,
} from './experiment-save.ts';
export { readFeedbackFolder, startFeedbackFolder } from './feedback-folder.ts';
export { fileHash } from './file-hash.ts';
export { withFileLock } from './file-lock.ts';
export { fileStamp } from './file-stamp.ts';
export { openTurns } from './in-turn.ts';
export { leadsOut } from './leads-out.ts';
export { NewFolderError, newExperimentFolder } from './new-folder.ts';
export { experimentCopy } from './practice-experiment.ts';
export {
  openPracticeFolder,
  type PracticeFolder,
  PracticeFolderError,
} from './practice-folder.ts';
export { findPracticeKey, readPassphrase, readPracticeKey, usualKeyPath } from './practice-key-file.ts';
export { PracticeKeyError, sealText } from './practice-seal.ts';
export { keptPaths, recordingPaths } from './recording-paths.ts';
export {
  appendRelease,
  isReleased,
  type Release,
  readReleases,
  releaseSections,
  standingRelease,
} from './releases.ts';
export {
  type FileTraits,
  readResult,
  readResultsIndex,
  resultTraits,
  traitsOf,
  writeResult,
  writeResultsIndex,
} from './results.ts';
export { appendRigCheck, readRigChecks, rigChecksPath, withdrawRigCheck } from './rig-checks.ts';
export { RigCheckError } from './rig-error.ts';
export {
  appendReferenceRun,
  readReferenceRuns,
  referenceRunsPath,
  withdrawReferenceRun,
} from './rig-references.ts';
export {
  type CodeHolder,
  isPassphrase,
  matchesCode,
  openRoomAccess,
  type RoomAccess,
  renewCode,
  setPassphrase,
  shownCode,
} from './room-access.ts';
export { readRoomFile, writeRoomFile } from './room-folder.ts';
export { type RoomSession, readSessions, writeSessions } from './room-sessions.ts';
export { FolderServedError, serveAlone } from './server-lock.ts';
export { sheetCells } from './submission-cells.ts';
export {
  findSubmissions,
  keepSubmission,
  readSubmission,
  SheetEndingError,
  type SubmissionFile,
} from './submissions.ts';
export { openTrail, type Trail } from './trail.ts';
export { trailDays } from './trail-file.ts';
export type { TrailEntry } from './trail-line.ts';
export { readTrail, readTrailDay } from './trail-read.ts';
export { checkKept, entryWithdrawn, referenceKept } from './trail-rig.ts';
export { TransferError, type TransferTrouble } from './transfer-error.ts';
export type { PieceCheck } from './transfer-receive.ts';
export { openTransfers, type Transfer, type Transfers } from './transfers.ts';
export { admitFile, type UploadLimits, usualUploadLimits } from './upload-limits.ts';
export {
  KeptAlreadyError,
  openUploads,
  staffOwner,
  type Uploads,
  UploadTooLargeError,
  type WaitingFile,
} from './uploads.ts';
export { type Verified, verifyFolder } from './verify.ts';
export { writeAgain } from './written-again.ts';

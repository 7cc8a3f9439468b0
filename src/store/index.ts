export {
  ExperimentFileError,
  experimentFileName,
  type ReadExperiment,
  readExperiment,
  readExperimentFile,
} from './experiment-file.ts';
export { type NewFolder, NewFolderError, newExperimentFolder } from './new-folder.ts';
export { type FoundRecordings, recordingPaths } from './recording-paths.ts';

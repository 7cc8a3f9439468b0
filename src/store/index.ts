export {
  ExperimentFileError,
  type ReadExperiment,
  readExperiment,
  readExperimentFile,
} from './experiment-file.ts';
export { NewFolderError, newExperimentFolder } from './new-folder.ts';
export { recordingPaths } from './recording-paths.ts';

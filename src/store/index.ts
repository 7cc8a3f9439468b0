export {
  ExperimentFileError,
  type ReadExperiment,
  readExperiment,
  readExperimentFile,
} from './experiment-file.ts';
export { NewFolderError, newExperimentFolder } from './new-folder.ts';
export { experimentCopy } from './practice-experiment.ts';
export {
  openPracticeFolder,
  type PracticeFolder,
  PracticeFolderError,
} from './practice-folder.ts';
export { findPracticeKey, readPassphrase, readPracticeKey, usualKeyPath } from './practice-key-file.ts';
export { PracticeKeyError, sealText } from './practice-seal.ts';
export { recordingPaths } from './recording-paths.ts';

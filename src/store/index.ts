export {
  ExperimentFileError,
  type ReadExperiment,
  readExperiment,
  readExperimentFile,
} from './experiment-file.ts';
export { NewFolderError, newExperimentFolder } from './new-folder.ts';
export { type ExperimentChanges, experimentCopy } from './practice-experiment.ts';
export {
  openPracticeFolder,
  type PracticeFolder,
  PracticeFolderError,
  type PracticePlaces,
} from './practice-folder.ts';
export { findPracticeKey, readPassphrase, readPracticeKey, usualKeyPath } from './practice-key-file.ts';
export { PracticeKeyError, sealText } from './practice-seal.ts';
export { recordingPaths } from './recording-paths.ts';

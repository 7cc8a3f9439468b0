export { ExperimentFileError, readExperiment } from './experiment-file.ts';

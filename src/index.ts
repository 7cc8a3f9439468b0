/** Emberline for TypeScript programs: the same calls that the commands make. */
export * from './analysis/index.ts';
export { openRecordingFile } from './archive/index.ts';
export * from './decay/index.ts';
export * from './experiment/index.ts';
export * from './figure/index.ts';
export * from './figure/terminal.ts';
export * from './practice/index.ts';
export * from './prediction/index.ts';
export * from './quantity/index.ts';
export { type RecordingFile, readRecordingFile, readSamples, type Samples } from './recording/files.ts';
export * from './recording/index.ts';
export * from './remark/index.ts';
export * from './sensing/index.ts';
export * from './statistics/index.ts';
export { ExperimentFileError, newExperimentFolder, readExperiment } from './store/index.ts';

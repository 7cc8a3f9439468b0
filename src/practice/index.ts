export { simulateRecording } from './bench-trial.ts';
export type {
  BenchReadings,
  BenchTrial,
  BenchTruth,
  DialectName,
  Heating,
  SimulatedAir,
  SimulatedBody,
  SimulatedChain,
  SimulatedLogger,
  SimulatedOutput,
  SimulatedStem,
} from './bench-types.ts';
export { type DialectInfo, dialects } from './dialect.ts';
export { type FaultName, faultNames } from './fault-names.ts';
export { faults } from './faults.ts';
export type { GroupSlipName } from './group-slips.ts';
export { groupSheets, handedIn } from './handed-in.ts';
export { type KeyedRecording, keyedRecording, type PracticeKey, practiceKey } from './key.ts';
export { practiceKeySchema, type ReadPracticeKey } from './key-schema.ts';
export { practiceSet } from './set.ts';
export {
  type FaultWish,
  type PlantedFault,
  PracticeError,
  type PracticeGroup,
  type PracticeRecording,
  type PracticeSet,
  type PracticeWishes,
} from './set-types.ts';
export { practiceTask } from './task.ts';
export { recordingBytes } from './write-recording.ts';

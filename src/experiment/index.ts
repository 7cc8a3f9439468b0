export { checkExperiment } from './check.ts';
export type { ExperimentRemark } from './check-remark.ts';
export { entryOf } from './codes.ts';
export { type Condition, conditionName, conditionsOf, type LeftOutCondition } from './conditions.ts';
export type { FlowSetting, MeterReading } from './flow-reading.ts';
export { experimentJsonSchema, experimentJsonSchemaName } from './json-schema.ts';
export { type PathToken, parsePattern } from './path-pattern.ts';
export { type PredictedCondition, predictCondition } from './predict-condition.ts';
export {
  type ConditionPrediction,
  type Missing,
  predictionFor,
  usualEmissivity,
} from './prediction-input.ts';
export { type AskedPath, type RecordingPlace, recordingPlace } from './recording-place.ts';
export { experimentSchema } from './schema.ts';
export type { Experiment } from './schema-keys.ts';
export { experimentTemplate } from './template.ts';
export type { UncertainQuantity } from './written.ts';
export { type Checked, type FileFault, parseChecked } from './yaml.ts';

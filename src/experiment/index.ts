export {
  type BackCalculated,
  coefficientFrom,
  heatTransferFrom,
  type MeasuredHeatTransfer,
} from './back-calculation.ts';
export { type BuiltPath, buildPath, type NamedPlace } from './build-path.ts';
export { type ChangedText, changeText, type TextChange } from './change-text.ts';
export { checkExperiment } from './check.ts';
export type { ExperimentRemark } from './check-remark.ts';
export {
  type ConditionComparison,
  compareAll,
  compareCondition,
  type MeasuredRuns,
  type MeasuredValue,
  type ResponseFigures,
  responseFigures,
  type TimeConstantComparison,
} from './compare.ts';
export { type MeasuredRun, type PooledTimeConstant, poolRuns, runOf } from './compare-pool.ts';
export { type RateAgreement, reachWords } from './compare-rate.ts';
export { compareTrends, type MaterialTrends } from './compare-trends.ts';
export { type Condition, conditionName, conditionsOf, type LeftOutCondition } from './conditions.ts';
export {
  type DesignSource,
  type DesignUncertainty,
  designUncertainty,
  type ExpectedNoise,
  type TrialDesign,
  usualNoise,
} from './design-uncertainty.ts';
export { entryOf } from './entry.ts';
export { type FlowSetting, type MeterReading, readReading } from './flow-reading.ts';
export { type HeatingModel, type HeatingTime, heatingTime } from './heating-time.ts';
export { experimentJsonSchema, experimentJsonSchemaName } from './json-schema.ts';
export { type DifferenceLine, lineDifference } from './line-difference.ts';
export { runOrder } from './order.ts';
export { fixedFolder, type PathToken, parsePattern } from './path-pattern.ts';
export { isPlainName, staysInside } from './plain-path.ts';
export { type MeasuredCondition, type PlanOptions, planSession } from './plan.ts';
export type {
  Advice,
  ExpectedTimeConstant,
  Mend,
  PlannedCondition,
  SessionPlan,
  Stretch,
  StretchKind,
  TimeLine,
  TrialTimes,
} from './plan-types.ts';
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
export { type SubmittedQuantity, submittedQuantities } from './schema-marking.ts';
export { surfaceCode } from './schema-rig.ts';
export { experimentTemplate } from './template.ts';
export { type SessionFrame, type TimedCondition, timeLine } from './timeline.ts';
export { type CalendarLabel, type CalendarStart, calendarText } from './timeline-calendar.ts';
export { type Tolerance, toleranceWords } from './tolerance.ts';
export { type Exponent, type Trend, type TrendPoint, trendsOf } from './trend.ts';
export type { UncertainQuantity } from './written.ts';
export { type Checked, type FileFault, parseChecked } from './yaml.ts';

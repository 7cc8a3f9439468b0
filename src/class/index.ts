export { type ChangeKind, type ProcessChange, processChange } from './change.ts';
export { type FactoredResult, type VarianceComponents, varianceComponents } from './components.ts';
export {
  type ControlLimits,
  type ControlPoint,
  type EwmaChart,
  ewmaChart,
  type IndividualsChart,
  individualsChart,
  type KnownProcess,
} from './control.ts';
export { explainMeasured, measuredHypotheses } from './explain-measured.ts';
export { type GroupScore, type KnownSpread, lookAgainLimit, type Scored, scoreGroups } from './look-again.ts';
export { cochranLimit, cochranTest, grubbsLimit, grubbsTest, type OutlierTest } from './outliers.ts';
export {
  type Consistency,
  deviationInterval,
  mandelConsistency,
  oneWayPrecision,
  type Precision,
} from './precision.ts';
export type { ClassRecording, TraceSketch } from './recording.ts';
export { algorithmA, type RobustSummary, robustMeanUncertainty } from './robust.ts';
export {
  type ClassKnowledge,
  type ClassSummary,
  type ConditionSummary,
  classSummary,
  type GroupResult,
  type LookAgain,
} from './roll-up.ts';
export { type SameTrace, sameTraces, traceSketch } from './same-trace.ts';
export type { Explanation, SubmittedValue } from './slip-search.ts';
export type { StudentRecording } from './student.ts';

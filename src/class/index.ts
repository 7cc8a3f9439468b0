export { assessSubmission } from './assess.ts';
export type {
  AssessedValue,
  Assessment,
  SubmissionFacts,
} from './assessment.ts';
export type { Causes } from './causes.ts';
export { processChange } from './change.ts';
export { varianceComponents } from './components.ts';
export type { ConditionSummary } from './conditions.ts';
export {
  ewmaChart,
  individualsChart,
} from './control.ts';
export { correlationWords } from './correlation-words.ts';
export { quantityWords } from './explanation-words.ts';
export { lookAgainLimit, scoreGroups } from './look-again.ts';
export type { MeasuredFacts } from './measured-facts.ts';
export type { NusseltTrial } from './nusselt-cell.ts';
export { cochranLimit, cochranTest, grubbsLimit, grubbsTest } from './outliers.ts';
export {
  mandelConsistency,
  oneWayPrecision,
} from './precision.ts';
export {
  type ClassRecording,
  departureWords,
  percentWords,
  spreadWords,
  type TraceSketch,
} from './recording.ts';
export { type RigChart, rigChangeRemark, rigCharts } from './rig-chart.ts';
export {
  type CorrelationForm,
  type NoCorrelation,
  type RigCorrelation,
  rigCorrelation,
} from './rig-correlation.ts';
export { nusseltTrials, predictByRig, type RigRun } from './rig-nusselt.ts';
export { type FollowedKind, followedKind, type RigTerm, rigSeries } from './rig-series.ts';
export { rigStateWords } from './rig-state.ts';
export { algorithmA } from './robust.ts';
export { type ClassSummary, classSummary } from './roll-up.ts';
export { sameTraces, traceSketch } from './same-trace.ts';
export type { Explanation } from './slip-search.ts';
export type { PredictedFacts } from './student-chain.ts';
export type { StudentRecording } from './student-recording.ts';
export {
  partOf,
  type Submission,
  type SubmittedValue,
  type Tolerance,
  type Tolerances,
  usualTolerances,
} from './submission.ts';

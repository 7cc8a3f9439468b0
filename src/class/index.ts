export { processChange } from './change.ts';
export { varianceComponents } from './components.ts';
export {
  ewmaChart,
  individualsChart,
} from './control.ts';
export { explainMeasured } from './explain-measured.ts';
export { lookAgainLimit, scoreGroups } from './look-again.ts';
export { cochranLimit, cochranTest, grubbsLimit, grubbsTest } from './outliers.ts';
export {
  mandelConsistency,
  oneWayPrecision,
} from './precision.ts';
export type { ClassRecording } from './recording.ts';
export { rigChangeRemark, rigCharts } from './rig-chart.ts';
export { followedKind, type RigTerm, rigSeries } from './rig-series.ts';
export { algorithmA } from './robust.ts';
export { classSummary } from './roll-up.ts';
export { sameTraces, traceSketch } from './same-trace.ts';
export type { SubmittedValue } from './slip-search.ts';
export type { StudentRecording } from './student.ts';

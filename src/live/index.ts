export { type BenchCall, type CalledBench, callsOf } from './attention.ts';
export { ambientLeverage, bearableZeroShift } from './bearable.ts';
export { type BodyCandidate, bodyCandidate, rigCandidates } from './body-candidate.ts';
export { type ExpectedBody, expectedBodies } from './body-expected.ts';
export { type BodyLikeness, bodyLikeness } from './body-likeness.ts';
export type { EarlierRun } from './earlier-runs.ts';
export { type GateInput, type TrialContext, unknownContext } from './gate-input.ts';
export { spokenTime } from './gate-words.ts';
export { gatesOf } from './gates.ts';
export { zeroShiftInKelvin } from './gates-zero.ts';
export { TrialWatch } from './trial-watch.ts';
export type {
  BenchAdvice,
  Forecast,
  Gate,
  GateCode,
  GateSource,
  GateState,
  LiveTimeConstant,
  Phase,
  TrialNow,
} from './types.ts';

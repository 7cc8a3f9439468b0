export { type BenchCall, type CalledBench, callsOf } from './attention.ts';
export { ambientLeverage, bearableZeroShift } from './bearable.ts';
export {
  type BodyCandidate,
  type BodyLikeness,
  bodyCandidate,
  bodyLikeness,
  type EarlierRun,
  type ExpectedBody,
  expectedBodies,
} from './body-likeness.ts';
export { type GateInput, type TrialContext, unknownContext } from './gate-input.ts';
export { gatesOf } from './gates.ts';
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

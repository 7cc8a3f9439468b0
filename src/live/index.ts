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

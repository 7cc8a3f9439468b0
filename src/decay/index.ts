export { judgeAdequacy, oneExponentialRatio } from './adequacy.ts';
export type {
  Adequacy,
  AdequacyInput,
  AdequacyTest,
  AdequacyTestName,
  DepartureKind,
} from './adequacy-types.ts';
export { fewestBlocks, fitDecay, slowMisfitLimit } from './fit.ts';
export type {
  AmbientPrior,
  BaselineLevel,
  DecayContributions,
  DecayFit,
  DecayFitFailure,
  DecayFitInput,
  FitGeometry,
  SlowMisfit,
} from './fit-types.ts';
export { independentReadings, noiseOfBlocks, residualNoise } from './noise.ts';
export type {
  Ambient,
  ArmaNoise,
  BudgetLine,
  ClassroomValue,
  Estimate,
  EstimateMethod,
  Segments,
  Verdict,
} from './types.ts';

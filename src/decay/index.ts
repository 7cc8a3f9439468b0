export { judgeAdequacy, oneExponentialRatio } from './adequacy.ts';
export type {
  Adequacy,
  AdequacyInput,
  AdequacyTest,
  AdequacyTestName,
  DepartureKind,
} from './adequacy-types.ts';
export { analyzeDecay, finishDecay } from './analyze.ts';
export { type BaselineReading, baselineLevel } from './baseline.ts';
export { type BaselineFacts, baselineRemarks } from './baseline-remarks.ts';
export { classroomEstimates } from './classroom.ts';
export { classroomRegression, type RegressionSums } from './classroom-regression.ts';
export {
  type ClassroomInput,
  type ClassroomResult,
  classroomMethods,
  type RawSamples,
  type ReferenceFit,
  type TaughtWorking,
} from './classroom-types.ts';
export { type Fault, type Fingerprint, type FingerprintInput, readFingerprint } from './fingerprint.ts';
export { classroomResponse, type FaultKind } from './fingerprint-response.ts';
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
export { type EndForecast, forecastBelow, forecastEnd } from './forecast.ts';
export { independentReadings, noiseOfBlocks, residualNoise } from './noise.ts';
export { type PreparedDecay, prepareDecay } from './prepare.ts';
export { describeRawNoise, effectiveReadings } from './raw-noise.ts';
export { type NoiseFacts, rawNoiseRemarks } from './raw-noise-remarks.ts';
export type { Clipping, Hum, RawNoise } from './raw-noise-types.ts';
export {
  cutoffProduct,
  errorFraction,
  errorFractionAtTimeConstant,
  firstOrderRatio,
  responseTime,
  riseTime,
} from './response.ts';
export type { CoolingPoint, Decay, TimeConstant } from './result.ts';
export { findSegments } from './segment.ts';
export { defaultProtocolLimits, type ProtocolLimits } from './segment-limits.ts';
export { segmentRemarks } from './segment-remarks.ts';
export { defaultSegmentSettings, type SegmentSettings } from './segment-settings.ts';
export type { Pattern, Segmentation } from './segment-types.ts';
export { type DecaySettings, usualDecaySettings } from './settings.ts';
export type {
  Ambient,
  ArmaNoise,
  BudgetLine,
  BudgetSource,
  ClassroomValue,
  Estimate,
  EstimateMethod,
  Segments,
  Verdict,
} from './types.ts';
export { type BlockWidth, type CutBlocks, chooseBlockWidth, cutBlocks, cutWindow } from './window.ts';
export { type WindowFacts, windowRemarks } from './window-remarks.ts';

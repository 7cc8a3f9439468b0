export { type AirState, airDensity, airState, airViscosity, vapourFraction } from './air.ts';
export {
  correlations,
  type FlowNumbers,
  findCorrelation,
  type Geometry,
  mixedNusselt,
  type NusseltCorrelation,
} from './convection.ts';
export {
  type Body,
  type Flow,
  type Meter,
  type MeteredJet,
  type PredictionInput,
  PredictionInputError,
  type Wire,
} from './input.ts';
export { jetDecay, usualDecayConstant } from './jet.ts';
export {
  findReferenceCondition,
  type LinePressure,
  type MeterKind,
  meterMassFlow,
  type ReferenceCondition,
  referenceConditions,
} from './meter.ts';
export { parameterWords } from './parameter-words.ts';
export {
  type MonteCarloCheck,
  type Prediction,
  type PredictOptions,
  predict,
  type UncertainTimeConstant,
} from './predict.ts';
export { predictTimeConstant, type TimeConstantPrediction } from './predict-time-constant.ts';
export {
  emissivities,
  findMaterial,
  type Material,
  materials,
  ownMaterial,
  type SolidState,
  type SourceStatus,
  type SurfaceEmissivity,
  solidState,
} from './solids.ts';
export {
  biotDiameter,
  biotVolumeToArea,
  exactOverLumped,
  lumpedBiotLimit,
  type SphereTemperatures,
  sphereEigenvalue,
  sphereTemperatures,
} from './sphere.ts';
export {
  type CorrelationAccuracy,
  type ParameterName,
  type PredictionParameter,
  type PredictionUncertainties,
  predictionParameters,
  usualCorrelationAccuracy,
} from './uncertainties.ts';

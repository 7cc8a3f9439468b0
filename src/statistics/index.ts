export { type ArmaFit, type ArmaFitOptions, fitArma, restrictedLikelihood } from './arma.ts';
export { choleskyFactor, choleskyForward, choleskySolve } from './arma-cholesky.ts';
export { ArmaFilter, stepsBetween } from './arma-filter.ts';
export {
  type Arma,
  armaAutocovariance,
  armaCorrelationTime,
  armaCovariance,
  armaLongRunVariance,
  armaVariance,
} from './arma-process.ts';

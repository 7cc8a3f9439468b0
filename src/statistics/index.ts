export { chiSquareQuantile, normalQuantile, studentQuantile } from '../quantity/index.ts';
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
export {
  ar1MeanInflation,
  ar1SlopeInflation,
  ar1VarianceInflation,
  autocorrelations,
  durbinWatson,
  initialPositiveInflation,
  lineInfluences,
  neweyWestCovariance,
} from './autocorrelation.ts';
export { dot } from './dot.ts';
export { correlation, fitLine, fitLineThroughOrigin, type LineFit, lineAt } from './line.ts';
export { fitLinear, type LeastSquaresFit } from './linear.ts';
export { fitNonlinear, type NonlinearFit, type NonlinearOptions } from './nonlinear.ts';
export { curveProblem, type LeastSquaresProblem } from './nonlinear-problem.ts';
export {
  mean,
  median,
  quantile,
  quantileOfSorted,
  scaledMad,
  standardDeviation,
  sumOfSquares,
} from './summary.ts';

export {
  type AgreementOptions,
  agreement,
  type LogUncertainValue,
  logAgreement,
  type UncertainValue,
} from './agreement.ts';
export { normalisedError, zetaScore, zPrimeScore, zScore } from './agreement-scores.ts';
export type { Agreement, AgreementVerdict, RelativeReach } from './agreement-types.ts';
export { chiSquareQuantile } from './chi-square.ts';
export {
  coverageFactor,
  coverageInterval,
  type Interval,
  logCoverageInterval,
  usualCoverage,
} from './coverage.ts';
export {
  type FormattedQuantity,
  formatAtPlace,
  formatSignificant,
  formatWithInterval,
  formatWithUncertainty,
  type NumberStyle,
  trueMinus,
  type UncertaintyStyle,
  withUnit,
} from './format.ts';
export {
  type AdaptiveMonteCarlo,
  type AdaptiveMonteCarloOptions,
  type MonteCarlo,
  type MonteCarloOptions,
  propagateMonteCarlo,
  propagateMonteCarloAdaptively,
} from './monte-carlo.ts';
export type { DrawSummary, NotFinite } from './monte-carlo-summary.ts';
export { type FirstOrderFlaw, type Validation, validate } from './monte-carlo-validate.ts';
export { normalQuantile } from './normal.ts';
export { type ParsedQuantity, type PressureReference, parseQuantity, type QuantityProblem } from './parse.ts';
export {
  type CorrelatedContribution,
  type InputContribution,
  type Propagated,
  type PropagatedMany,
  type PropagationOfManyOptions,
  type PropagationOptions,
  propagate,
  propagateMany,
} from './propagate.ts';
export { studentQuantile } from './student.ts';
export {
  type Correlation,
  type Distribution,
  type Input,
  type Model,
  type ModelOfMany,
  standardUncertaintyWithin,
  type Values,
} from './uncertain.ts';
export type { Matrix } from './uncertain-correlation.ts';
export { type Dimension, dimensions, fromSI, toSI, type Unit, unitsOf } from './units.ts';

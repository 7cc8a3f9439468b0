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
  formatWithUncertainty,
  type NumberStyle,
  type UncertaintyStyle,
  withUnit,
} from './format.ts';
export { type ParsedQuantity, type PressureReference, parseQuantity, type QuantityProblem } from './parse.ts';
export { chiSquareQuantile, normalQuantile, studentQuantile } from './quantiles.ts';
export { type Dimension, dimensions, fromSI, toSI, type Unit, unitsOf } from './units.ts';

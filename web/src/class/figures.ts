/** The figures of this place: loaded when the first is drawn. */
export {
  causesFigure,
  causesOfSpread,
  causesTable,
  conditionStrips,
  conditionsFigure,
  conditionsTable,
} from '../../../src/figure/index.ts';

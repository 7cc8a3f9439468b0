/** The figures of this place: loaded when the first is drawn. */
export {
  comparedFigure,
  comparedRatioFigure,
  comparedTable,
  lightTheme,
  trendFigure,
  trendTable,
} from '../../../src/figure/index.ts';

/** The figures of this place: loaded when the first is drawn. */
export {
  budgetFigure,
  budgetTable,
  correlationFigure,
  correlationTable,
  intervalFigure,
  intervalTable,
  residualFigure,
  residualTable,
  traceFigure,
  traceLayout,
  traceTable,
} from '../../../src/figure/index.ts';

export { budgetFigure, budgetTable } from './budget.ts';
export { type CollapseSeries, collapseFigure, collapseTable, strip } from './collapse.ts';
export type { FigureOptions, ThemeOptions } from './frame.ts';
export { intervalFigure, intervalTable, methodName } from './interval.ts';
export { offscreenDocument } from './offscreen.ts';
export { svgToPng } from './png.ts';
export { residualFigure, residualTable } from './residual.ts';
export type { FigureTable } from './table.ts';
export { darkTheme, lightTheme, type Theme } from './theme.ts';
export { type Curve, sparse, type ThinCurve, thinCurve } from './thin.ts';
export { traceFigure } from './trace.ts';
export {
  type CoolingFit,
  type ErrorPoint,
  errorFractionTable,
  type TraceFigureData,
  type TraceSegments,
  traceTable,
} from './trace-data.ts';

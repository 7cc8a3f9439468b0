export { budgetFigure, budgetTable } from './budget.ts';
export { type CauseOfSpread, causesFigure, causesTable } from './class-causes.ts';
export { conditionsFigure, conditionsTable } from './class-conditions.ts';
export { causesOfSpread, conditionStrips } from './class-data.ts';
export type { ConditionStrip } from './class-strip.ts';
export { type CollapseSeries, collapseFigure, collapseTable, strip } from './collapse.ts';
export { type ComparedOptions, comparedFigure } from './compared.ts';
export { type ComparedCondition, comparedTable } from './compared-data.ts';
export { comparedRatioFigure } from './compared-ratio.ts';
export { controlFigure } from './control.ts';
export { controlTable } from './control-data.ts';
export { correlationFigure, correlationTable, type ResidualCorrelation } from './correlation.ts';
export type { FigureOptions, SizeOptions, ThemeOptions } from './frame.ts';
export { intervalFigure, intervalTable, methodName } from './interval.ts';
export { offscreenDocument } from './offscreen.ts';
export type { Panel } from './panel.ts';
export { svgToPng } from './png.ts';
export { type ResidualFigureOptions, type ResidualPoint, residualFigure, residualTable } from './residual.ts';
export { schematicFigure } from './schematic.ts';
export { lengthWords, type Rig, type RigBody, type RigPart, rigOf, schematicTable } from './schematic-rig.ts';
export type { FigureTable } from './table.ts';
export { darkTheme, lightTheme, type Theme } from './theme.ts';
export { type Curve, sparse, type ThinCurve, thinCurve } from './thin.ts';
export { type TimelineOptions, timelineFigure } from './timeline.ts';
export { durationText, type SessionFigureData, type SessionStretch, timelineTable } from './timeline-data.ts';
export { type TraceFigureOptions, traceFigure } from './trace.ts';
export {
  type CloseReadings,
  type CoolingFit,
  type ErrorPoint,
  errorFractionTable,
  type TraceFigureData,
  type TraceSegments,
  traceTable,
} from './trace-data.ts';
export { type TraceLayout, type TraceShape, traceLayout } from './trace-layout.ts';
export { type TrendOptions, type TrendSeries, trendFigure, trendTable } from './trend.ts';

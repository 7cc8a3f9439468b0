export type { FigureOptions } from './frame.ts';
export { offscreenDocument } from './offscreen.ts';
export { svgToPng } from './png.ts';
export type { FigureTable } from './table.ts';
export { darkTheme, lightTheme, type Theme } from './theme.ts';
export { traceFigure } from './trace.ts';
export { errorFractionTable, type TraceFigureData, traceTable } from './trace-data.ts';

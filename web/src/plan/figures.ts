/** The figures of this place: loaded when the first is drawn. */
export { timelineFigure, timelineTable } from '../../../src/figure/index.ts';

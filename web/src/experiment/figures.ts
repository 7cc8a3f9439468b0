/** The figures of this place: loaded when the first is drawn. */
export { collapseFigure, collapseTable } from '../../../src/figure/index.ts';

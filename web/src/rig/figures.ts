/** The figures of this place: loaded when the first is drawn. */
export { controlFigure, controlTable } from '../../../src/figure/index.ts';

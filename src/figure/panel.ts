/** A plotting area: where it stands in the figure, px, and what it spans. */
export interface Panel {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
}

/** Where a plotting area stands in the figure, px. */
export type PanelBox = Pick<Panel, 'left' | 'top' | 'width' | 'height'>;

/** How many numbers a horizontal axis has room for: one about every 80 px. */
export function tickCount(panel: Pick<Panel, 'width'>): number {
  return Math.max(Math.round(panel.width / 80), 3);
}

/** Place of a value on the horizontal axis, px in the figure. */
export function across(panel: Panel, value: number): number {
  return panel.left + ((value - panel.x[0]) / (panel.x[1] - panel.x[0])) * panel.width;
}

/** Place of a value on the horizontal axis, px in the figure; values outside come to the nearer edge. */
export function acrossWithin(panel: Panel, value: number): number {
  return Math.min(Math.max(across(panel, value), panel.left), panel.left + panel.width);
}

/** Place of a value on the vertical axis, px in the figure. */
export function down(panel: Panel, value: number): number {
  return panel.top + ((panel.y[1] - value) / (panel.y[1] - panel.y[0])) * panel.height;
}

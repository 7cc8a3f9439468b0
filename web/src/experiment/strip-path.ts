/** The strip's size, px, and how far it shows: 2.6 time constants, and as much of the logarithm. */
export const stripSize = { width: 120, height: 28 } as const;
const reach = 2.6;
const edge = 3;

function x(v: number): number {
  return edge + (v / reach) * (stripSize.width - 2 * edge);
}

function y(v: number): number {
  return edge + (-v / reach) * (stripSize.height - 2 * edge);
}

/** The line of slope −1, as the data of a path. */
export const idealPath = path([
  [0, 0],
  [reach, -reach],
]);

/**
 * ln of the error fraction against time over the time constant, as the data of a path in a strip.
 *
 * @returns null where fewer than two points lie inside
 */
export function stripPath(points: {
  readonly x: readonly number[];
  readonly y: readonly number[];
}): string | null {
  const inside: [number, number][] = [];
  for (const [i, px] of points.x.entries()) {
    const py = points.y[i] ?? Number.NaN;
    if (px >= 0 && px <= reach && py >= -reach && py <= 0.1) inside.push([px, py]);
  }
  return inside.length < 2 ? null : path(inside);
}

function path(points: readonly (readonly [number, number])[]): string {
  return points
    .map(([px, py], i) => `${i === 0 ? 'M' : 'L'}${x(px).toFixed(1)},${y(py).toFixed(1)}`)
    .join('');
}

import { type Attributes, coordinate, element, polyline } from './markup.ts';
import type { RigPart } from './schematic-rig.ts';
import type { Theme } from './theme.ts';

/** Half the side of the square that a symbol fills, px. */
export const symbolReach = 22;

/** The sign of a part around a point, for what goes through it to the left or the right, or from top to bottom. */
export function symbol(
  kind: RigPart['kind'],
  [x, y]: readonly [number, number],
  course: 'level' | 'down',
  theme: Theme,
): string {
  const drawn = drawSymbol(kind, x, y, theme);
  if (course === 'level' || (kind !== 'valve' && kind !== 'amplifier')) return drawn;
  return element('g', { transform: `rotate(-90 ${coordinate(x)} ${coordinate(y)})` }, drawn);
}

function drawSymbol(kind: RigPart['kind'], x: number, y: number, theme: Theme): string {
  const line: Attributes = { fill: theme.paper, stroke: theme.ink, 'stroke-width': 1.4 };
  const thin: Attributes = { fill: 'none', stroke: theme.ink, 'stroke-width': 1.1 };
  const path = (points: readonly (readonly [number, number])[], how: Attributes, closed = false) =>
    element('path', {
      d: polyline(points.map(([dx, dy]) => [x + dx, y + dy])) + (closed ? 'Z' : ''),
      ...how,
    });
  const box = (halfWidth: number, halfHeight: number, radius = 2) =>
    element('rect', {
      x: x - halfWidth,
      y: y - halfHeight,
      width: 2 * halfWidth,
      height: 2 * halfHeight,
      rx: radius,
      ...line,
    });
  switch (kind) {
    case 'supply':
      return (
        box(21, 14, 13) +
        path(
          [
            [-8, 0],
            [7, 0],
            [2, -4],
            [7, 0],
            [2, 4],
          ],
          { ...thin, stroke: theme.air },
        )
      );
    case 'valve':
      return (
        path(
          [
            [-15, -10],
            [15, 10],
            [15, -10],
            [-15, 10],
          ],
          line,
          true,
        ) +
        path(
          [
            [0, 0],
            [0, -17],
            [-8, -17],
            [8, -17],
          ],
          thin,
        )
      );
    case 'variable-area':
      return (
        path(
          [
            [-7, 21],
            [7, 21],
            [13, -21],
            [-13, -21],
          ],
          line,
          true,
        ) +
        path(
          [
            [-7, -4],
            [7, -4],
            [0, 8],
          ],
          { ...thin, fill: theme.ink },
          true,
        )
      );
    case 'thermal-mass':
      return (
        box(21, 14) +
        path(
          [
            [-13, 0],
            [-8, 0],
            [-6, -6],
            [-2, 6],
            [2, -6],
            [6, 6],
            [8, 0],
            [13, 0],
          ],
          { ...thin, stroke: theme.heat },
        )
      );
    case 'volumetric':
      return (
        element('circle', { cx: x, cy: y, r: 18, ...line }) +
        path(
          [
            [-10, -8],
            [10, 0],
            [-10, 8],
          ],
          thin,
          true,
        )
      );
    case 'mass':
      return (
        box(21, 14) +
        path(
          [
            [-14, 6],
            [-8, 6],
            [-8, -6],
            [8, -6],
            [8, 6],
            [14, 6],
          ],
          thin,
        )
      );
    case 'ice-bath':
      return (
        path(
          [
            [-17, -18],
            [-14, 20],
            [14, 20],
            [17, -18],
          ],
          line,
        ) +
        [
          [-7, -5],
          [5, -7],
          [-5, 8],
          [6, 6],
          [0, 0],
        ]
          .map(([dx = 0, dy = 0]) =>
            element('rect', { x: x + dx - 3, y: y + dy - 3, width: 6, height: 6, ...thin }),
          )
          .join('')
      );
    case 'reference':
      return (
        box(18, 12) +
        element('circle', { cx: x - 8, cy: y, r: 3, ...thin }) +
        element('circle', { cx: x + 8, cy: y, r: 3, ...thin })
      );
    case 'amplifier':
      return path(
        [
          [18, -18],
          [18, 18],
          [-18, 0],
        ],
        line,
        true,
      );
    case 'logger':
      return (
        box(21, 17, 3) +
        element('path', {
          d: `M${coordinate(x - 16)},${coordinate(y + 9)}h6l7,-18q4,16 19,17`,
          ...thin,
        })
      );
  }
}

/** A straight line with a head at its end. */
export function arrow(
  [x1, y1]: readonly [number, number],
  [x2, y2]: readonly [number, number],
  how: Attributes,
): string {
  const length = Math.hypot(x2 - x1, y2 - y1);
  if (!(length > 0)) return '';
  const [ux, uy] = [(x2 - x1) / length, (y2 - y1) / length];
  const head = Math.min(6, length / 2);
  const wing = (side: number) =>
    [x2 - head * (ux - 0.5 * side * uy), y2 - head * (uy + 0.5 * side * ux)] as const;
  return (
    element('path', {
      d: polyline([
        [x1, y1],
        [x2, y2],
      ]),
      fill: 'none',
      ...how,
    }) +
    element('path', {
      d: polyline([wing(1), [x2, y2], wing(-1)]),
      fill: 'none',
      ...how,
      'stroke-dasharray': undefined,
    })
  );
}

/** A dimension: a thin line between two ends, each with a stroke across. */
export function dimension(
  [x1, y1]: readonly [number, number],
  [x2, y2]: readonly [number, number],
  theme: Theme,
): string {
  const upright = Math.abs(y2 - y1) > Math.abs(x2 - x1);
  const tick = (x: number, y: number) =>
    polyline(
      upright
        ? [
            [x - 4, y],
            [x + 4, y],
          ]
        : [
            [x, y - 4],
            [x, y + 4],
          ],
    );
  return element('path', {
    d:
      polyline([
        [x1, y1],
        [x2, y2],
      ]) +
      tick(x1, y1) +
      tick(x2, y2),
    fill: 'none',
    stroke: theme.tie,
    'stroke-width': 0.9,
  });
}

import { element, label, polyline } from './markup.ts';
import { bodyWords, lengthWords, type Rig } from './schematic-rig.ts';
import { arrow, dimension } from './schematic-symbols.ts';
import { sizes, type Theme } from './theme.ts';
import { widthOf, wrap } from './words.ts';

/** Nozzle and bodies at one scale, px. */
export interface Scene {
  readonly markup: string;
  /** Where the air comes in, on the axis. */
  readonly inlet: number;
  /** Middle of the bodies, on the axis. */
  readonly bodyX: number;
  /** How far the scene reaches above and below the axis. */
  readonly above: number;
  readonly below: number;
  /** Whether everything in it is at one scale. */
  readonly toScale: boolean;
}

/** Where a scene may be drawn, px. */
export interface ScenePlace {
  readonly left: number;
  readonly right: number;
  readonly axis: number;
  /** Names of the bodies beside them, or left to be listed elsewhere. */
  readonly names: 'beside' | 'elsewhere';
}

/** What nozzle or bodies may fill above and below the axis, px. */
const reach = 58;
const tube = 58;
const nameWidth = 176;
const leastRadius = 2;
const lineHeight = 15;

/** Draws nozzle, jet and bodies; what is too far or too small to be drawn at scale is drawn broken, and said so. */
export function drawScene(rig: Rig, place: ScenePlace, theme: Theme): Scene {
  const { left, right, axis, names } = place;
  const scale = scaleOf(rig, right - left - tube - (names === 'beside' ? nameWidth : 12));
  const { mouth, bore, bodyX, toScale } = placed(rig, place, scale.perMetre, scale.broken);
  const radii = rig.bodies.map(({ diameter }) => {
    return diameter === null ? 16 : Math.max(leastRadius, (diameter * scale.perMetre) / 2);
  });
  const highest = Math.max(
    10,
    ...radii.map((radius, i) => (rig.bodies[i]?.shape === 'wire' ? wireReach(radius) : radius)),
  );
  const widest = Math.max(14, highest, rig.air.length > 0 ? bore / 2 : 0);
  const named =
    names === 'beside' ? bodyNames(rig, bodyX, radii, right, axis, theme) : { markup: '', half: 0 };
  const lowest = Math.max(widest, named.half);
  const parts: string[] = [];
  if (rig.air.length > 0)
    parts.push(jet(rig.nozzle === null ? mouth + 6 : mouth - 34, bore, bodyX, radii[0] ?? 10, axis, theme));
  if (rig.nozzle !== null) {
    parts.push(nozzle(left, mouth, bore, axis, theme));
    parts.push(standOff(rig.nozzle.standOff, mouth, bodyX, axis + lowest + 14, right, theme));
    parts.push(boreSize(rig.nozzle.diameter, left, bore, axis, theme));
    if (scale.broken) parts.push(breakMark((mouth + bodyX - (radii[0] ?? 0)) / 2, axis, theme));
  }
  radii.forEach((radius, i) => {
    const body = rig.bodies[i];
    const known = body?.diameter !== null;
    parts.push(bodyShape(body?.shape ?? 'sphere', bodyX, axis, radius, i === 0, known, theme));
  });
  parts.push(element('circle', { cx: bodyX, cy: axis, r: 2.2, fill: theme.ink }));
  parts.push(named.markup);
  const top = axis - lowest - 6;
  parts.push(
    arrow([bodyX, top - 36], [bodyX, axis - highest - 4], {
      stroke: theme.heat,
      'stroke-width': 1.6,
      'stroke-dasharray': '5 3',
    }),
    ...heatingWords(rig.heating, bodyX, top, right, theme),
  );
  const small = rig.bodies.some(({ diameter }) => {
    return diameter !== null && (diameter * scale.perMetre) / 2 < leastRadius;
  });
  return {
    markup: parts.join(''),
    inlet: left,
    bodyX,
    above: axis - top + 44,
    below: lowest + (rig.nozzle === null ? 8 : 36),
    toScale: toScale && !small,
  };
}

/** Pixels a metre; `broken` where the stand-off at that scale would leave nothing to see of the bodies. */
function scaleOf({ nozzle, bodies }: Rig, width: number): { perMetre: number; broken: boolean } {
  const largest = Math.max(0, ...bodies.map(({ diameter }) => diameter ?? 0));
  const high = Math.max(largest, nozzle?.diameter ?? 0);
  if (high === 0) return { perMetre: 1, broken: false };
  // Bodies alone do not need all the height; a wire must leave room for its length.
  const alone = bodies.every(({ shape }) => shape === 'wire') ? 10 : 1.6;
  const upright = (2 * reach) / (nozzle === null ? alone * high : high);
  if (nozzle === null) return { perMetre: upright, broken: false };
  const across = Math.max(width, 40) / (nozzle.standOff + largest / 2);
  if (across * high >= 24) return { perMetre: Math.min(upright, across), broken: false };
  return { perMetre: Math.min(upright, Math.max(width, 40) / (3 * high)), broken: true };
}

function placed({ nozzle, air }: Rig, { left, right, names }: ScenePlace, perMetre: number, broken: boolean) {
  if (nozzle === null) {
    const room = right - left - (names === 'beside' ? nameWidth : 0);
    const bodyX = left + Math.min(Math.max(room / 2, 40), air.length > 0 ? 130 : 220);
    return { mouth: left, bore: 2 * reach * 0.8, bodyX, toScale: true };
  }
  const mouth = left + tube;
  const end = right - (names === 'beside' ? nameWidth : 12);
  const bodyX = broken ? end - reach : mouth + nozzle.standOff * perMetre;
  return {
    mouth,
    bore: Math.max(3, nozzle.diameter * perMetre),
    bodyX: Math.max(bodyX, mouth),
    toScale: !broken,
  };
}

function heatingWords(heating: string, bodyX: number, top: number, right: number, theme: Theme): string[] {
  const then = 'taken away for the cooling';
  const fits = bodyX + 10 + widthOf(then, sizes.small) <= right;
  const how = { x: bodyX + (fits ? 10 : -10), 'text-anchor': fits ? 'start' : 'end', fill: theme.heat };
  return [
    label(heating, { ...how, y: top - 24, 'font-weight': 600 }),
    label(then, { ...how, y: top - 10, 'font-size': sizes.small }),
  ];
}

/** Air along the axis, up to the largest body and past it. */
function jet(begin: number, bore: number, bodyX: number, radius: number, axis: number, theme: Theme): string {
  const how = { stroke: theme.air, 'stroke-width': 1.5 };
  const count = bore > 60 ? 5 : bore > 12 ? 3 : 1;
  return Array.from({ length: count }, (_, i) => {
    const off = count === 1 ? 0 : ((i / (count - 1)) * 2 - 1) * 0.36 * bore;
    const inside = Math.abs(off) < radius;
    const end = inside ? bodyX - Math.sqrt(radius ** 2 - off ** 2) - 3 : bodyX + radius + 14;
    return end > begin + 6 ? arrow([begin, axis + off], [end, axis + off], how) : '';
  }).join('');
}

function nozzle(left: number, mouth: number, bore: number, axis: number, theme: Theme): string {
  const wall = (side: 1 | -1) =>
    element('path', {
      d: polyline([
        [left, axis + side * 4],
        [left + 14, axis + (side * bore) / 2],
        [mouth, axis + (side * bore) / 2],
      ]),
      fill: 'none',
      stroke: theme.ink,
      'stroke-width': 2.4,
      'stroke-linejoin': 'round',
    });
  return wall(1) + wall(-1);
}

/** The size stands right of the wires, where nothing else does, unless the sheet ends there. */
function standOff(
  length: number,
  mouth: number,
  bodyX: number,
  y: number,
  right: number,
  theme: Theme,
): string {
  const words = `${lengthWords(length)} from mouth to middle of the body`;
  const drawn = dimension([mouth, y], [bodyX, y], theme);
  if (right - bodyX - 12 < 100) {
    return drawn + label(words, { x: bodyX - 12, y: y + 16, 'text-anchor': 'end', 'font-size': sizes.small });
  }
  const lines = wrap(words, right - bodyX - 12, sizes.small, 2);
  return (
    drawn +
    lines
      .map((line, i) => label(line, { x: bodyX + 12, y: y + 4 + 14 * i, 'font-size': sizes.small }))
      .join('')
  );
}

function boreSize(diameter: number, left: number, bore: number, axis: number, theme: Theme): string {
  return (
    dimension([left + 19, axis - bore / 2], [left + 19, axis + bore / 2], theme) +
    label(`nozzle, bore ${lengthWords(diameter)}`, {
      x: left + 44,
      y: axis - bore / 2 - 8,
      'text-anchor': 'middle',
      'font-size': sizes.small,
    })
  );
}

function breakMark(x: number, axis: number, theme: Theme): string {
  const stroke = (at: number) =>
    polyline([
      [at - 4, axis + 14],
      [at + 4, axis - 14],
    ]);
  return (
    element('path', {
      d: polyline([
        [x - 5, axis + 14],
        [x + 3, axis - 14],
        [x + 11, axis - 14],
        [x + 3, axis + 14],
      ]),
      fill: theme.paper,
    }) +
    element('path', { d: stroke(x) + stroke(x + 8), fill: 'none', stroke: theme.tie, 'stroke-width': 1.2 })
  );
}

function bodyShape(
  shape: Rig['bodies'][number]['shape'],
  x: number,
  y: number,
  radius: number,
  solid: boolean,
  known: boolean,
  theme: Theme,
): string {
  const how = {
    fill: solid ? theme.raised : 'none',
    stroke: theme.ink,
    'stroke-width': solid ? 1.8 : 1.1,
    'stroke-dasharray': known && solid ? undefined : '3 2.5',
  };
  if (shape !== 'wire') return element('circle', { cx: x, cy: y, r: radius, ...how });
  const half = wireReach(radius);
  return element('rect', { x: x - radius, y: y - half, width: 2 * radius, height: 2 * half, ...how });
}

/** Half of what is drawn of a wire across the flow, px. */
function wireReach(radius: number): number {
  return Math.min(reach, Math.max(30, 6 * radius));
}

/** A line of text for each size, right of the bodies, tied to its outline. */
function bodyNames(
  rig: Rig,
  bodyX: number,
  radii: readonly number[],
  right: number,
  axis: number,
  theme: Theme,
): { markup: string; half: number } {
  const x = bodyX + Math.max(16, ...radii) + 22;
  const blocks = rig.bodies
    .slice(0, mostNamed)
    .map((body) => wrap(bodyWords(body), right - x, sizes.text, 2));
  if (rig.bodies.length > mostNamed) blocks.push([`and ${rig.bodies.length - mostNamed} other sizes`]);
  const count = blocks.reduce((sum, { length }) => sum + length, 0);
  const half = (count * lineHeight + (blocks.length - 1) * 6) / 2;
  let y = axis - half;
  const parts = blocks.map((lines, i) => {
    const middle = y + (lines.length * lineHeight) / 2;
    const text = lines.map((line, k) => label(line, { x, y: y + 11 + k * lineHeight }));
    y += lines.length * lineHeight + 6;
    const radius = radii[i];
    if (radius === undefined || i >= mostNamed) return text.join('');
    const angle = Math.atan2(middle - axis, x - 4 - bodyX);
    const from = [bodyX + radius * Math.cos(angle), axis + radius * Math.sin(angle)] as const;
    const tie = element('path', {
      d: polyline([from, [x - 4, middle]]),
      fill: 'none',
      stroke: theme.tie,
      'stroke-width': 0.9,
    });
    return tie + element('circle', { cx: from[0], cy: from[1], r: 1.8, fill: theme.tie }) + text.join('');
  });
  return { markup: parts.join(''), half };
}

const mostNamed = 5;

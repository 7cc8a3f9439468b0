import { frameSheet, type SizeOptions, sheetOf, type ThemeOptions, themeOf } from './frame.ts';
import { type Attributes, element, label, polyline } from './markup.ts';
import { bodyWords, type Rig, type RigPart, schematicTable } from './schematic-rig.ts';
import { drawScene } from './schematic-scene.ts';
import { symbol, symbolReach } from './schematic-symbols.ts';
import { sizes, type Theme } from './theme.ts';
import { wrap } from './words.ts';

const usualWidth = 960;
const edge = 20;
const lineHeight = 15;
/** Sheets at least this wide, px, have the air in one row and the signal in another. */
const twoRows = 700;

interface Drawn {
  readonly markup: string;
  readonly height: number;
  readonly toScale: boolean;
}

/**
 * A rig drawn from its experiment file: the air from the supply through the meter to the nozzle, the bodies in the
 * jet, and the signal from the junction to the logger, each with its numbers. Nozzle and bodies share one scale.
 *
 * @returns SVG text, 960 px wide unless the options ask for another width; below 700 px all stands one below the other
 */
export function schematicFigure(rig: Rig, options: ThemeOptions & SizeOptions = {}): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const title = rig.course === null ? 'The rig' : `The rig: ${rig.course}`;
  const heading = wrap(title, sheet.width - 2 * edge, sizes.title, 2, true);
  const top = 26 + 18 * heading.length;
  const { markup, height, toScale } =
    sheet.width >= twoRows ? inRows(rig, sheet.width, top, theme) : inColumn(rig, sheet.width, top, theme);
  const scaleWords = toScale
    ? `${rig.nozzle === null ? 'Bodies' : 'Nozzle and bodies'} are drawn to one scale; the rest is not to scale.`
    : 'Not to scale: some sizes lie too far apart to be drawn together.';
  const small = wrap([...rig.surroundings, scaleWords].join(' '), sheet.width - 2 * edge, sizes.small, 4);
  return frameSheet(
    theme,
    sheet,
    height + 14 + 14 * small.length,
    title,
    describe(rig, scaleWords),
    ...heading.map((line, i) =>
      label(line, { x: edge, y: 28 + 18 * i, 'font-size': sizes.title, 'font-weight': 600 }),
    ),
    markup,
    ...small.map((line, i) =>
      label(line, { x: edge, y: height + 12 + 14 * i, fill: theme.muted, 'font-size': sizes.small }),
    ),
  );
}

/** Air from the left to the bodies on the right, the signal back below. */
function inRows(rig: Rig, width: number, top: number, theme: Theme): Drawn {
  const column = rig.air.length * 150 > width / 2 ? width / 2 / rig.air.length : 150;
  const sceneLeft = edge + (rig.air.length > 0 ? rig.air.length * column + 8 : 60);
  const place = { left: sceneLeft, right: width - edge, names: 'beside' } as const;
  // How high the scene reaches does not depend on where its axis lies.
  const axis = top + drawScene(rig, { ...place, axis: 0 }, theme).above;
  const scene = drawScene(rig, { ...place, axis }, theme);
  const parts: string[] = [];
  const centres = rig.air.map((_, i) => edge + column * (i + 0.5));
  if (rig.air.length > 0) {
    parts.push(
      pipe(
        [
          [centres[0] ?? edge, axis],
          [scene.inlet, axis],
        ],
        theme,
      ),
    );
  }
  parts.push(scene.markup);
  const texts = rig.air.map((part) => linesOf(part, column - 12));
  rig.air.forEach((part, i) => {
    const x = centres[i] ?? edge;
    parts.push(
      symbol(part.kind, [x, axis], 'level', theme),
      written(texts[i] ?? [], x, axis + 40, 'middle', theme),
    );
  });
  const airText = 40 + lineHeight * Math.max(0, ...texts.map(({ length }) => length));
  const row = axis + Math.max(scene.below, airText) + symbolReach + 22;
  const share = (scene.bodyX - 40 - edge) / Math.max(1, rig.signal.length);
  const from = Math.min(share, 190);
  const places = rig.signal.map((_, i) => scene.bodyX - 40 - from * (i + 0.5));
  const last = places.at(-1) ?? scene.bodyX;
  parts.push(
    leads(
      [
        [scene.bodyX, axis],
        [scene.bodyX, row],
        [last, row],
      ],
      'left',
      theme,
    ),
  );
  const signalTexts = rig.signal.map((part) => linesOf(part, from - 12));
  rig.signal.forEach((part, i) => {
    const x = places[i] ?? edge;
    parts.push(
      symbol(part.kind, [x, row], 'level', theme),
      written(signalTexts[i] ?? [], x, row + 40, 'middle', theme),
    );
  });
  const sensor = wrap(rig.sensor, width - edge - scene.bodyX - 14, sizes.text, 4);
  parts.push(...sensor.map((line, i) => label(line, { x: scene.bodyX + 14, y: row - 8 + lineHeight * i })));
  const signalText = 40 + lineHeight * Math.max(1, ...signalTexts.map(({ length }) => length));
  return { markup: parts.join(''), height: row + signalText + 6, toScale: scene.toScale };
}

/** Everything along one line from top to bottom. */
function inColumn(rig: Rig, width: number, top: number, theme: Theme): Drawn {
  const x = edge + symbolReach;
  const textLeft = x + symbolReach + 14;
  const textWidth = width - edge - textLeft;
  const parts: string[] = [];
  let y = top + symbolReach;
  const stations = (list: readonly RigPart[]) =>
    list.map((part) => {
      const lines = linesOf(part, textWidth);
      const drawn =
        symbol(part.kind, [x, y], 'down', theme) +
        written(lines, textLeft, y - (lines.length - 1) * 7, 'start', theme);
      const at = y;
      y += Math.max(2 * symbolReach + 16, lines.length * lineHeight + 20);
      return { drawn, at };
    });
  const air = stations(rig.air);
  const place = {
    left: rig.air.length > 0 ? x + 16 : edge,
    right: width - edge,
    names: 'elsewhere',
  } as const;
  const axis = y - symbolReach + drawScene(rig, { ...place, axis: 0 }, theme).above;
  const scene = drawScene(rig, { ...place, axis }, theme);
  const first = air[0];
  if (first !== undefined)
    parts.push(
      pipe(
        [
          [x, first.at],
          [x, axis],
          [scene.inlet, axis],
        ],
        theme,
      ),
    );
  parts.push(...air.map(({ drawn }) => drawn), scene.markup);
  y = axis + scene.below + 16;
  const sizesSaid = rig.bodies.slice(0, 6).flatMap((body) => wrap(bodyWords(body), textWidth, sizes.text, 2));
  const said = [...sizesSaid, ...wrap(rig.sensor, textWidth, sizes.text, 4)];
  const turn = y - 4;
  for (const line of said) {
    parts.push(label(line, { x: textLeft, y: y + 14 }));
    y += lineHeight;
  }
  y += symbolReach + 18;
  const signal = stations(rig.signal);
  const last = signal.at(-1)?.at ?? y;
  parts.push(
    leads(
      [
        [scene.bodyX, axis],
        [scene.bodyX, turn],
        [x, turn],
        [x, last],
      ],
      'down',
      theme,
    ),
  );
  parts.push(...signal.map(({ drawn }) => drawn));
  return { markup: parts.join(''), height: y - symbolReach + 4, toScale: scene.toScale };
}

interface Line {
  readonly text: string;
  readonly name: boolean;
}

function linesOf({ name, numbers }: RigPart, width: number): Line[] {
  const names = wrap(name, width, sizes.text, 2, true).map((text) => ({ text, name: true }));
  const rest = numbers
    .flatMap((one) => wrap(one, width, sizes.small, 3))
    .map((text) => ({ text, name: false }));
  return [...names, ...rest].slice(0, 8);
}

function written(
  lines: readonly Line[],
  x: number,
  y: number,
  anchor: 'middle' | 'start',
  theme: Theme,
): string {
  return lines
    .map(({ text, name }, i) => {
      const how: Attributes = name ? { 'font-weight': 600 } : { 'font-size': sizes.small, fill: theme.muted };
      return label(text, { x, y: y + lineHeight * i, 'text-anchor': anchor, ...how });
    })
    .join('');
}

function pipe(points: readonly (readonly [number, number])[], theme: Theme): string {
  const line = (stroke: string, width: number) =>
    element('path', {
      d: polyline(points),
      fill: 'none',
      stroke,
      'stroke-width': width,
      'stroke-linejoin': 'round',
    });
  return line(theme.air, 8) + line(theme.wash, 5.4);
}

/** Two wires side by side, that turn to the left, and down once more where the course is `down`. */
function leads(
  points: readonly (readonly [number, number])[],
  course: 'left' | 'down',
  theme: Theme,
): string {
  const wire = (side: 1 | -1) => {
    const off = 2.2 * side;
    const moved = points.map(([x, y], i): readonly [number, number] => {
      if (i === 0) return [x + off, y];
      if (i === points.length - 1) return course === 'left' ? [x, y + off] : [x + off, y];
      return [x + off, y + off];
    });
    return element('path', { d: polyline(moved), fill: 'none', stroke: theme.ink, 'stroke-width': 1 });
  };
  return wire(1) + wire(-1);
}

function describe(rig: Rig, scaleWords: string): string {
  const parts = schematicTable(rig).rows.map(([part, numbers]) => {
    return numbers === '' ? `${part}.` : `${part}: ${numbers}.`;
  });
  return [...parts, ...rig.surroundings, scaleWords].join(' ');
}

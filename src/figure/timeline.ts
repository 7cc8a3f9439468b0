import { frame, type ThemeOptions, themeOf } from './frame.ts';
import { coordinate, element, label, polyline } from './markup.ts';
import { hatch } from './ruler.ts';
import { sizes, type Theme } from './theme.ts';
import {
  clockText,
  durationText,
  kindWords,
  minuteTicks,
  type SessionFigureData,
  type SessionRow,
  type SessionStretch,
  sessionRows,
  soundStretches,
} from './timeline-data.ts';
import { shorten, widthOf } from './words.ts';

/** How a time line is drawn. */
export interface TimelineOptions extends ThemeOptions {
  /** Room that there is, px; 340 to 1900 are used. */
  readonly width: number;
}

const left = 10;
const right = 14;
const mostRows = 160;
const title = 'The session';

interface Scale {
  readonly from: number;
  readonly to: number;
  readonly width: number;
}

/**
 * The session of one bench to scale: a row a trial with what leads up to it, from the ice bath to the reserve; each
 * condition named beside its first trial. What does not fit stands below, set apart, on the same scale from its own
 * beginning.
 *
 * @returns SVG text, as wide as asked for, 18 px a row
 */
export function timelineFigure(data: SessionFigureData, options: TimelineOptions): string {
  const theme = themeOf(options);
  const width = Math.min(Math.max(Math.round(options.width), 340), 1900);
  const all = soundStretches(data.stretches);
  const rows = sessionRows(data.stretches).slice(0, mostRows);
  const apart = data.notFitting.slice(0, mostRows).map(({ condition, stretches }): SessionRow => {
    return { condition, repeat: null, stretches: soundStretches(stretches) };
  });
  const head = headOf(theme, rows, apart, width);
  const rowHeight = rows.length + apart.length > 60 ? 15 : 18;
  const top = head.height + 30;
  const foot = top + Math.max(rows.length, 1) * rowHeight + 4;
  const apartTop = foot + 78;
  const height = apart.length === 0 ? foot + 34 : apartTop + apart.length * rowHeight + 10;
  if (all.length === 0) {
    const none = label('nothing to lay out', { x: 4, y: top, fill: theme.muted });
    return frame(theme, width, height, title, 'There is nothing to draw.', head.markup, none);
  }
  const scale: Scale = {
    from: Math.min(0, ...all.map((s) => s.from)),
    to: Math.max(
      data.length ?? 0,
      ...all.map((s) => s.to),
      ...apart.flatMap((row) => row.stretches.map((s) => s.to)),
    ),
    width,
  };
  return frame(
    theme,
    width,
    height,
    title,
    describe(data, rows),
    grounds(theme, all, data, scale, top - 8, foot),
    head.markup,
    axis(theme, scale, data, foot, top - 8),
    nowRule(theme, scale, data, foot, top - 8),
    ...rows.map((row, i) => drawRow(theme, row, rows[i - 1] ?? null, scale, top + i * rowHeight, rowHeight)),
    apart.length === 0 ? '' : apartHeading(theme, apart.length, apartTop - 14, width),
    ...apart.map((row, i) => drawRow(theme, row, null, scale, apartTop + i * rowHeight, rowHeight)),
  );
}

function place(scale: Scale, seconds: number): number {
  return left + ((seconds - scale.from) / (scale.to - scale.from)) * (scale.width - left - right);
}

/** Heading, and a specimen of each kind of stretch with its name. */
function headOf(
  theme: Theme,
  rows: readonly SessionRow[],
  apart: readonly SessionRow[],
  width: number,
): { markup: string; height: number } {
  const present = new Set([...rows, ...apart].flatMap((row) => row.stretches.map(({ kind }) => kind)));
  const order = ['baseline', 'heating', 'cooling', 'settling', 'change-over', 'zeroing'] as const;
  const parts = [
    label(`${title} on one bench, to scale`, { x: 4, y: 22, 'font-size': sizes.title, 'font-weight': 600 }),
  ];
  let x = left;
  let y = 44;
  for (const kind of order) {
    if (!present.has(kind)) continue;
    const words = kindWords[kind];
    const length = 34 + widthOf(words, sizes.small) + 18;
    if (x > left && x + length > width) {
      x = left;
      y += 18;
    }
    parts.push(
      bar(theme, kind, x, x + 28, y - 9, 10),
      label(words, { x: x + 34, y, 'font-size': sizes.small, fill: theme.muted }),
    );
    x += length;
  }
  return { markup: parts.join(''), height: y };
}

/** One stretch: each kind has a form of its own, so that colour only repeats what the form says. */
function bar(
  theme: Theme,
  kind: SessionStretch['kind'],
  from: number,
  to: number,
  y: number,
  height: number,
): string {
  const length = Math.max(to - from, 0.8);
  const middle = y + height / 2;
  const line = (dash: string | undefined, thickness: number, stroke: string) =>
    element('path', {
      d: polyline([
        [from, middle],
        [from + length, middle],
      ]),
      stroke,
      'stroke-width': thickness,
      'stroke-dasharray': dash,
      'data-part': kind,
    });
  switch (kind) {
    case 'baseline':
      return element('rect', {
        x: from,
        y,
        width: length,
        height,
        fill: theme.paper,
        stroke: theme.muted,
        'stroke-width': 0.8,
        'data-part': kind,
      });
    case 'heating': {
      const lines =
        length < 3
          ? ''
          : element('path', {
              d: hatch(from, y, length, height, 3.5),
              stroke: theme.paper,
              'stroke-width': 1,
            });
      return (
        element('rect', { x: from, y, width: length, height, fill: theme.heat, 'data-part': kind }) + lines
      );
    }
    case 'cooling':
      return element('rect', { x: from, y, width: length, height, fill: theme.air, 'data-part': kind });
    case 'settling':
      return line('1.5 2.5', 2, theme.air);
    case 'change-over':
      return element('path', {
        d:
          polyline([
            [from, middle],
            [from + length, middle],
          ]) +
          polyline([
            [from, y + 1],
            [from, y + height - 1],
          ]),
        stroke: theme.ink,
        'stroke-width': 1,
        'data-part': kind,
      });
    case 'zeroing':
      return element('rect', {
        x: from,
        y: middle - 2.5,
        width: length,
        height: 5,
        fill: theme.tie,
        'data-part': kind,
      });
    default:
      return element('rect', {
        x: from,
        y: y + 1,
        width: length,
        height: height - 2,
        fill: theme.raised,
        stroke: theme.tie,
        'stroke-width': 0.9,
        'data-part': kind,
      });
  }
}

/** Spare time and reserve as grounds behind the rows, and the end of the session. */
function grounds(
  theme: Theme,
  all: readonly SessionStretch[],
  data: SessionFigureData,
  scale: Scale,
  top: number,
  foot: number,
): string {
  const parts = all
    .filter(({ kind }) => kind === 'spare' || kind === 'reserve')
    .map(({ kind, from, to }) => {
      const x = place(scale, from);
      const width = place(scale, to) - x;
      const words = `${kindWords[kind]} ${durationText(to - from)}`;
      const fits = widthOf(words, sizes.small) + 6 <= width;
      return (
        element('rect', {
          x,
          y: top,
          width,
          height: foot - top,
          fill: kind === 'reserve' ? theme.raised : theme.wash,
          'data-part': kind,
        }) +
        label(fits ? words : kindWords[kind], {
          // A narrow ground is named along its height.
          ...(fits
            ? { x: x + width / 2, y: top - 5, 'text-anchor': 'middle' }
            : {
                transform: `translate(${coordinate(x + width / 2 + 4)},${coordinate(top + 4)}) rotate(-90)`,
                'text-anchor': 'end',
              }),
          'font-size': sizes.small,
          fill: theme.muted,
        })
      );
    });
  if (data.length === null) return parts.join('');
  const end = place(scale, data.length);
  const line = element('path', {
    d: polyline([
      [end, top - 2],
      [end, foot + 6],
    ]),
    stroke: theme.ink,
    'stroke-width': 1.6,
    'data-part': 'end',
  });
  return parts.join('') + line;
}

function axis(theme: Theme, scale: Scale, data: SessionFigureData, foot: number, top: number): string {
  const most = Math.max(2, Math.floor((scale.width - left - right) / 52));
  const ticks = minuteTicks(scale.from, scale.to, most, data.start ?? 0);
  const parts = ticks.map((seconds) => {
    const x = place(scale, seconds);
    const text = clockText(seconds, data.start);
    const half = widthOf(text, sizes.small) / 2;
    return (
      element('path', {
        d: polyline([
          [x, top],
          [x, foot],
        ]),
        stroke: theme.faint,
        'stroke-width': 0.75,
      }) +
      element('path', {
        d: polyline([
          [x, foot],
          [x, foot + 5],
        ]),
        stroke: theme.tie,
      }) +
      label(text, {
        x: Math.min(Math.max(x, half + 1), scale.width - half - 1),
        y: foot + 17,
        'text-anchor': 'middle',
        'font-size': sizes.small,
        fill: theme.muted,
      })
    );
  });
  const line = element('path', {
    d: polyline([
      [left, foot],
      [scale.width - right, foot],
    ]),
    stroke: theme.tie,
  });
  const name = label(axisName(data), {
    x: scale.width - right,
    y: foot + 31,
    'text-anchor': 'end',
    'font-size': sizes.small,
    fill: theme.muted,
  });
  return parts.join('') + line + name;
}

/** Now as a rule with a dash of its own, its time under the axis. */
function nowRule(theme: Theme, scale: Scale, data: SessionFigureData, foot: number, top: number): string {
  const { now } = data;
  if (typeof now !== 'number' || !(now >= scale.from && now <= scale.to)) return '';
  const x = place(scale, now);
  const text = `now ${clockText(now, data.start)}`;
  const half = widthOf(text, sizes.small, true) / 2;
  // The name of the axis stands at the right.
  const rightmost = scale.width - right - widthOf(axisName(data), sizes.small) - 12 - half;
  return (
    element('path', {
      d: polyline([
        [x, top - 2],
        [x, foot + 5],
      ]),
      stroke: theme.heat,
      'stroke-width': 2,
      'stroke-dasharray': '9 3 2 3',
      'data-part': 'now',
    }) +
    label(text, {
      x: Math.min(Math.max(x, half + 1), rightmost),
      y: foot + 31,
      'text-anchor': 'middle',
      'font-size': sizes.small,
      'font-weight': 600,
    })
  );
}

function axisName({ start }: SessionFigureData): string {
  return start === null ? 'h:min from the first minute' : 'time of day';
}

function apartHeading(theme: Theme, count: number, y: number, width: number): string {
  return (
    element('path', {
      d: polyline([
        [left, y - 18],
        [width - right, y - 18],
      ]),
      stroke: theme.ink,
      'stroke-width': 1,
      'stroke-dasharray': '6 4',
    }) +
    label(
      `${count === 1 ? 'does' : 'do'} not fit, ${count} ${count === 1 ? 'condition' : 'conditions'}, ${count === 1 ? 'from its' : 'each from its'} own beginning`,
      {
        x: left,
        y: y,
        'font-weight': 600,
      },
    )
  );
}

/** A row: its stretches, and its name where there is room beside them. */
function drawRow(
  theme: Theme,
  row: SessionRow,
  above: SessionRow | null,
  scale: Scale,
  y: number,
  rowHeight: number,
): string {
  const height = rowHeight - 7;
  const bars = row.stretches.map(({ kind, from, to }) => {
    return bar(theme, kind, place(scale, from), place(scale, to), y + 2, height);
  });
  const from = place(scale, Math.min(...row.stretches.map((s) => s.from), scale.to));
  const to = place(scale, Math.max(...row.stretches.map((s) => s.to), scale.from));
  const { text, strong } = nameOf(row, above);
  const roomRight = scale.width - 4 - (to + 7);
  const roomLeft = from - 7 - 4;
  const needed = widthOf(text, sizes.small, strong);
  const onRight = needed <= roomRight || roomRight >= roomLeft;
  const name = label(shorten(text, Math.max(onRight ? roomRight : roomLeft, 10), sizes.small, strong), {
    x: onRight ? to + 7 : from - 7,
    y: y + 2 + height / 2 + 4,
    'text-anchor': onRight ? 'start' : 'end',
    'font-size': sizes.small,
    'font-weight': strong ? 600 : undefined,
    fill: strong ? theme.ink : theme.muted,
    'data-part': 'name',
  });
  return element(
    'g',
    { 'data-row': `${row.condition ?? 'session'} ${row.repeat ?? ''}`.trim() },
    ...bars,
    name,
  );
}

/** The condition where it begins, the count of the trial where it goes on. */
function nameOf(row: SessionRow, above: SessionRow | null): { text: string; strong: boolean } {
  if (row.condition === null) {
    const kinds = [...new Set(row.stretches.map(({ kind }) => kindWords[kind]))].join(', ');
    const length = row.stretches.reduce((sum, { from, to }) => sum + to - from, 0);
    return { text: `${kinds} ${durationText(length)}`, strong: false };
  }
  const own = row.stretches.filter(({ condition }) => condition !== null);
  if (above?.condition === row.condition && row.repeat !== null)
    return { text: String(row.repeat), strong: false };
  const length = Math.max(...own.map((s) => s.to)) - Math.min(...own.map((s) => s.from));
  const repeats = new Set(own.map(({ repeat }) => repeat)).size;
  const words =
    row.repeat === null ? `, ${repeats > 1 ? `${repeats} trials, ` : ''}${durationText(length)}` : '';
  return { text: `${row.condition}${words}`, strong: true };
}

function describe(data: SessionFigureData, rows: readonly SessionRow[]): string {
  const conditions = [...new Set(rows.flatMap(({ condition }) => (condition === null ? [] : [condition])))];
  const order = conditions
    .map((condition) => {
      const own = rows.filter((row) => row.condition === condition).flatMap(({ stretches }) => stretches);
      const first = Math.min(...own.filter((s) => s.condition !== null).map((s) => s.from));
      return `${condition} from ${clockText(first, data.start)}`;
    })
    .join(', ');
  const missing = data.notFitting.map(({ condition }) => condition).join(', ');
  const length = data.length === null ? '' : ` The session ends at ${clockText(data.length, data.start)}.`;
  const now = typeof data.now === 'number' ? ` Now it is ${clockText(data.now, data.start)}.` : '';
  return `In order: ${order || 'no trial'}.${length}${now}${missing === '' ? '' : ` Not fitting: ${missing}.`}`;
}

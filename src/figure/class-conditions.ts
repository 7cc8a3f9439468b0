import {
  type ConditionStrip,
  type GroupMark,
  groupCodes,
  groupMark,
  namesApart,
  whyApart,
} from './class-strip.ts';
import { frameSheet, type SizeOptions, sheetOf, type ThemeOptions, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { drawable } from './thin.ts';
import { decimalsFor, fixed, roundTicks, shorten } from './words.ts';

const usualWidth = 760;
const left = 62;
const right = 16;
const stripHeight = 84;
const rowHeight = 138;
const top = 66;
const mostStrips = 60;
/** Least and most that a strip reaches from its mean, as ln. */
const reach = { least: 0.03, most: 0.9 } as const;

/**
 * A strip a condition: every group's time constant with its 95 % interval, in the order of the values, about the robust
 * mean of all; the band within which nobody is asked to look again is shaded. Those outside are filled and named.
 *
 * @returns SVG text, 760 px wide unless the options ask for another width
 */
export function conditionsFigure(
  conditions: readonly ConditionStrip[],
  options: ThemeOptions & SizeOptions = {},
): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const shown = conditions.filter(isDrawable).slice(0, mostStrips);
  const title = 'What each group found';
  const heading =
    label(title, { x: 20, y: 26, 'font-size': sizes.title, 'font-weight': 600 }) +
    label('each with its 95 % interval, as departure from the robust mean', {
      x: 20,
      y: 44,
      fill: theme.muted,
    });
  if (shown.length === 0) {
    const none = label('no condition that counts', { x: 20, y: top + 20, fill: theme.muted });
    return frameSheet(theme, sheet, top + 50, title, 'There is nothing to draw.', heading, none);
  }
  return frameSheet(
    theme,
    sheet,
    top + shown.length * rowHeight + 8,
    title,
    describe(shown),
    heading,
    ...shown.map((one, i) => strip(theme, one, top + i * rowHeight, sheet.width)),
  );
}

/** The numbers behind the strips, a row a group and condition. */
export function conditionsTable(conditions: readonly ConditionStrip[]): FigureTable {
  return {
    caption: 'Time constants by condition and group, in the order of their values',
    columns: [
      { name: 'Condition', unit: null },
      { name: 'Group', unit: null },
      { name: 'Time constant', unit: 's' },
      { name: 'Interval from', unit: 's' },
      { name: 'Interval to', unit: 's' },
      { name: 'Departure from the robust mean', unit: '%' },
      { name: 'Look again', unit: null },
    ],
    rows: conditions.flatMap(({ name, location, groups }) =>
      sorted(groups).map((group) => [
        name,
        group.name,
        group.value,
        ...group.interval,
        100 * (group.value / location - 1),
        whyApart(group),
      ]),
    ),
  };
}

function sorted(groups: readonly GroupMark[]): GroupMark[] {
  return groups.toSorted((a, b) => a.value - b.value);
}

function isDrawable({ location, groups }: ConditionStrip): boolean {
  return location > 0 && drawable(location) && groups.length > 0;
}

function strip(theme: Theme, one: ConditionStrip, from: number, width: number): string {
  const { name, location, interval, band } = one;
  const groups = sorted(one.groups).filter(({ value }) => value > 0 && drawable(value));
  const log = (value: number) => Math.log(Math.max(value, 1e-12) / location);
  const furthest = Math.max(
    ...groups.map(({ value }) => Math.abs(log(value))),
    ...groups
      .filter((group) => whyApart(group) === '')
      .flatMap(({ interval: own }) => own.map((end) => Math.abs(log(end)))),
    ...(band ?? []).map((end) => Math.abs(log(end))),
    reach.least,
  );
  const half = 1.1 * Math.min(furthest, reach.most);
  const plotTop = from + 22;
  const middle = plotTop + stripHeight / 2;
  const y = (logs: number) => middle - (Math.min(Math.max(logs, -half), half) / half) * (stripHeight / 2);
  const room = width - left - right;
  const x = (i: number) => left + ((i + 0.5) / groups.length) * room;
  const spread = interval === null ? 0 : (interval[1] - interval[0]) / 2;
  const decimals = decimalsFor(spread > 0 ? spread : location / 50);
  const few = band === null && groups.length > 1;
  const many = `, ${groups.length} ${groups.length === 1 ? 'group' : 'groups'}`;
  const count =
    width < 560 ? (few ? ', too few groups' : '') : `${many}${few ? ': too few to single one out' : ''}`;
  const plusMinus = spread > 0 ? ` ± ${fixed(spread, decimals)}` : '';
  const value = `${fixed(location, decimals)}${plusMinus} s`;
  const head =
    label(shorten(name, 0.4 * room, sizes.text, true), { x: 20, y: from + 10, 'font-weight': 600 }) +
    label(`${value}${count}`, { x: width - right, y: from + 10, 'text-anchor': 'end', fill: theme.muted });
  return [
    head,
    band === null ? '' : shaded(theme, y(log(band[0])), y(log(band[1])), width),
    ...scale(theme, half, y, width),
    ...groups.map((group, i) => groupMark(theme, group, x(i), y, log)),
    ...namesApart(theme, groups, x, y, log, { left, width }),
    ...groupCodes(theme, groups, x, plotTop + stripHeight + 14, room),
  ].join('');
}

function shaded(theme: Theme, low: number, high: number, width: number): string {
  const edge = (at: number) =>
    element('path', {
      d: polyline([
        [left, at],
        [width - right, at],
      ]),
      stroke: theme.tie,
      'stroke-width': 0.75,
      'stroke-dasharray': '2 3',
    });
  return (
    element('rect', {
      x: left,
      y: high,
      width: width - left - right,
      height: Math.max(0, low - high),
      fill: theme.wash,
      'data-part': 'band',
    }) +
    edge(low) +
    edge(high)
  );
}

/** The robust mean, and departures in percent at the left. */
function scale(theme: Theme, half: number, y: (logs: number) => number, width: number): string[] {
  const ticks = roundTicks(100 * Math.expm1(-half), 100 * Math.expm1(half), 3);
  return [
    element('path', {
      d: polyline([
        [left, y(0)],
        [width - right, y(0)],
      ]),
      stroke: theme.ink,
      'stroke-width': 1,
      'data-part': 'robust mean',
    }),
    ...ticks.values.map((percent) => {
      const sign = percent > 0 ? '+' : '';
      return label(`${sign}${fixed(percent, ticks.decimals)} %`, {
        x: left - 8,
        y: y(Math.log1p(percent / 100)) + 4,
        'text-anchor': 'end',
        'font-size': sizes.small,
        fill: theme.muted,
      });
    }),
  ];
}

function describe(conditions: readonly ConditionStrip[]): string {
  const said = conditions.map(({ name, location, groups }) => {
    const apart = groups.filter((group) => whyApart(group) !== '');
    const who = apart.length === 0 ? 'nobody apart' : `${apart.length} set apart`;
    return `${name}: robust mean ${fixed(location, 2)} s of ${groups.length}, ${who}.`;
  });
  return `Every group's time constant as departure from the robust mean of its condition. ${said.join(' ')}`;
}

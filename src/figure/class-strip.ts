import { element, label, polyline } from './markup.ts';
import { sizes, type Theme } from './theme.ts';
import { plain, shorten, widthOf } from './words.ts';

/** A condition with what each group found. Times in s. */
export interface ConditionStrip {
  /** As `brass-12 at 120`. */
  readonly name: string;
  /** Robust mean of the groups, > 0, and its 95 % interval; null where there is none. */
  readonly location: number;
  readonly interval: readonly [number, number] | null;
  /** Within it nobody is asked to look again; null where nobody is singled out. */
  readonly band: readonly [number, number] | null;
  readonly groups: readonly {
    /** Empty where nobody shall know whose it is. */
    readonly name: string;
    readonly value: number;
    readonly interval: readonly [number, number];
    readonly lookAgain: boolean;
    /** Whether it cools like another body than its label says. */
    readonly otherBody: boolean;
  }[];
}

/** A group in a strip. */
export type GroupMark = ConditionStrip['groups'][number];

/** Why a group is set apart, in words; empty where it is not. */
export function whyApart({ lookAgain, otherBody }: GroupMark): string {
  return otherBody ? 'cools like another body' : lookAgain ? 'look again' : '';
}

/** A group: its interval, and a mark that is filled where it is asked to look again. */
export function groupMark(
  theme: Theme,
  group: GroupMark,
  x: number,
  y: (logs: number) => number,
  log: (value: number) => number,
): string {
  const apart = whyApart(group) !== '';
  const at = y(log(group.value));
  const bar = element('path', {
    d: polyline([
      [x, y(log(group.interval[0]))],
      [x, y(log(group.interval[1]))],
    ]),
    stroke: apart ? theme.ink : theme.tie,
    'stroke-width': apart ? 2 : 1.2,
    'data-part': 'interval',
  });
  if (group.otherBody) {
    const size = 4.5;
    const d = `${polyline([
      [x, at - size],
      [x + size, at],
      [x, at + size],
      [x - size, at],
    ])}Z`;
    return bar + element('path', { d, fill: theme.heat, stroke: theme.ink, 'data-part': 'group apart' });
  }
  return (
    bar +
    element('circle', {
      cx: x,
      cy: at,
      r: apart ? 4.2 : 3,
      fill: apart ? theme.ink : theme.paper,
      stroke: apart ? theme.ink : theme.air,
      'stroke-width': 1.4,
      'data-part': apart ? 'group apart' : 'group',
    })
  );
}

/** Names of all groups below the strip, where there is room for them. */
export function groupCodes(
  theme: Theme,
  groups: readonly GroupMark[],
  x: (i: number) => number,
  y: number,
  room: number,
): string[] {
  const longest = Math.max(...groups.map(({ name }) => widthOf(plain(name, 40), sizes.small)));
  if (longest + 8 > room / groups.length) return [];
  return groups.map(({ name }, i) =>
    name === ''
      ? ''
      : label(plain(name, 40), {
          x: x(i),
          y,
          'text-anchor': 'middle',
          'font-size': sizes.small,
          fill: theme.muted,
        }),
  );
}

/** What is said of those that are set apart, beside their marks. */
export function namesApart(
  theme: Theme,
  groups: readonly GroupMark[],
  x: (i: number) => number,
  y: (logs: number) => number,
  log: (value: number) => number,
  { left, width }: { readonly left: number; readonly width: number },
): string[] {
  return groups.flatMap((group, i) => {
    const said = whyApart(group);
    if (said === '') return [];
    const words = group.name === '' ? said : `${group.name}: ${said}`;
    const toTheLeft = x(i) > (left + width) / 2;
    return [
      label(shorten(words, width / 2 - left / 2, sizes.small, true), {
        x: x(i) + (toTheLeft ? -9 : 9),
        y: y(log(group.value)) + 4,
        'text-anchor': toTheLeft ? 'end' : 'start',
        'font-size': sizes.small,
        'font-weight': 600,
        stroke: theme.paper,
        'stroke-width': 3,
        'paint-order': 'stroke',
        'data-part': 'name',
      }),
    ];
  });
}

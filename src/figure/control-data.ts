import { followedKind, type RigChart } from '../class/index.ts';
import type { FigureTable } from './table.ts';
import { drawable } from './thin.ts';

/** One value of a control chart, in the unit of display. */
interface ControlRow {
  /** Place in the order of time, from 1. */
  readonly number: number;
  readonly value: number;
  readonly day: string;
  readonly term: string;
  readonly outside: boolean;
  readonly average: { readonly mean: number; readonly low: number; readonly high: number } | null;
}

/** Only the latest are shown: older ones would leave no room. */
const mostShown = 120;

/** A day, UTC. */
export function dayOf(seconds: number): string {
  return drawable(seconds) && Math.abs(seconds) < 8e12
    ? new Date(seconds * 1000).toISOString().slice(0, 10)
    : '';
}

/** The values of a chart that are drawn, in their order. */
export function controlRows({ kind, points, outside, averages }: RigChart): ControlRow[] {
  const { factor } = followedKind(kind);
  const far = new Set(outside);
  return points
    .map(({ value, at, term }, i) => {
      const own = averages?.[i] ?? null;
      return {
        value: value / factor,
        day: dayOf(at),
        term,
        outside: far.has(i),
        average:
          own === null
            ? null
            : { mean: own.value / factor, low: own.lower / factor, high: own.upper / factor },
      };
    })
    .filter(({ value }) => drawable(value))
    .slice(-mostShown)
    .map((row, i) => ({ number: i + 1, ...row }));
}

/** The numbers behind a control chart. */
export function controlTable(chart: RigChart): FigureTable {
  const { unit: symbol, factor, name } = followedKind(chart.kind);
  const unit = symbol === '' ? null : symbol;
  const { limits } = chart;
  return {
    caption: [chart.bench, chart.subject, name].filter((one) => one !== null).join(', '),
    columns: [
      { name: 'Day', unit: null },
      { name: 'Term', unit: null },
      { name: 'Value', unit },
      { name: 'Lower limit', unit },
      { name: 'Upper limit', unit },
      { name: 'Outside', unit: null },
      { name: 'Moving average', unit },
    ],
    rows: controlRows(chart).map(({ day, term, value, outside, average }) => [
      day,
      term,
      value,
      limits === null ? null : limits.lower / factor,
      limits === null ? null : limits.upper / factor,
      outside ? 'outside' : '',
      average?.mean ?? null,
    ]),
  };
}

import {
  correlationWords,
  type FollowedKind,
  followedKind,
  type NoCorrelation,
  type RigChart,
  type RigCorrelation,
} from '../class/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/** What is followed of the rigs over the terms: a sentence each, with limits, and what to look at. */
export function presentCharts(charts: readonly RigChart[], ink: Ink): string[] {
  if (charts.length === 0) return [];
  const changed = charts.filter(({ look }) => look !== null);
  const others = charts.filter(({ look }) => look === null);
  return [
    ink.strong('  Over the terms'),
    ...changed.flatMap((chart) => changedLines(chart, ink)),
    ...others.flatMap((chart) => entry('', printable(`${chart.sentence}${limitsOf(chart)}`))),
    '',
  ];
}

function changedLines(chart: RigChart, ink: Ink): string[] {
  const text = printable(`${chart.sentence}${limitsOf(chart)} ${chart.look ?? ''}`);
  const name = chart.change === null ? 'look again' : 'changed';
  const [first = '', ...rest] = entry(name, text);
  return [first.replace(name, ink.warm(name)), ...rest];
}

function limitsOf({ limits, kind, provisional }: RigChart): string {
  if (limits === null) return '';
  const { lower, upper } = limits;
  const about = provisional ? 'Provisional limits' : 'Limits';
  return ` ${about}: ${shown(kind, lower)} to ${shown(kind, upper)}.`;
}

function shown(kind: FollowedKind, value: number): string {
  const { unit, factor } = followedKind(kind);
  const text = String(Number((value / factor).toPrecision(4)));
  return unit === '' ? text : `${text} ${unit}`;
}

/**
 * The rig's own correlation, or why there is none.
 *
 * @param theory Nu that theory expects in the middle; null where it is not known
 */
export function presentCorrelation(
  path: string,
  correlation: RigCorrelation | NoCorrelation,
  theory: number | null,
  ink: Ink,
): string[] {
  if (!correlation.ok) {
    const { message, mend } = correlation;
    return [printable(path), '', ...entry('none yet', `${message} ${mend}`), ''];
  }
  const [formula = '', ...more] = correlationWords(correlation, theory);
  return [
    `${printable(path)}  ${ink.strong("the rig's own correlation")}`,
    '',
    ...entry('form', formula),
    ...more.flatMap((sentence) => entry('', sentence)),
    '',
    ...cellLines(correlation, ink),
    '',
  ];
}

function cellLines({ cells }: RigCorrelation, ink: Ink): string[] {
  const head = `  ${'bench, body, flow'.padEnd(40)}${'Re'.padStart(8)}${'Nu'.padStart(8)}${'trials'.padStart(8)}`;
  const rows = cells
    .toSorted((a, b) => a.reynolds - b.reynolds)
    .map(({ bench, body, flow, reynolds, nusselt, trials }) => {
      const name = printable(`${bench === null ? '' : `${bench}, `}${body}, ${flow}`).slice(0, 39);
      return `  ${name.padEnd(40)}${reynolds.toFixed(0).padStart(8)}${nusselt.toFixed(1).padStart(8)}${String(trials).padStart(8)}`;
    });
  return [ink.faint(head), ...rows];
}

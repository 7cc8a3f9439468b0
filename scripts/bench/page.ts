import { cpus, loadavg, totalmem } from 'node:os';
import { agreement, type Comparison } from './compare.ts';
import type { Summary } from './measure.ts';
import type { Peer } from './peers.ts';

/** How long the command line takes before anything large is read. */
export interface StartUp {
  readonly what: string;
  readonly command: string;
  readonly target: string;
  readonly summary: Summary;
}

/** What docs/performance.md says. */
export interface Page {
  readonly command: string;
  readonly own: string;
  /** Load average of a minute, before anything was measured. */
  readonly loadBefore: number;
  readonly comparisons: readonly Comparison[];
  readonly startUps: readonly StartUp[];
  readonly peers: readonly Peer[];
  readonly missing: readonly string[];
}

const seconds = (s: number) => s.toFixed(s < 10 ? 2 : 1);
const mebibytes = (m: number | null) => (m === null ? 'not measured' : `${m.toFixed(0)} MiB`);
const row = (...cells: readonly string[]) => `| ${cells.join(' | ')} |`;

/** The page as text. */
export function performancePage(page: Page): string {
  const { command, peers, missing, comparisons, startUps } = page;
  return [
    '# How fast it is',
    '',
    `Written by \`${command}\`, and every number in it, but for the part about a class, measured by that one command: whole processes, from start to exit, taken in turn; medians, with the least and the most in brackets; memory is the largest peak of resident memory, as GNU time tells it. Measure on a machine with nothing else to do.`,
    '',
    `This time: ${cpus()[0]?.model.trim() ?? 'unknown processor'}, ${cpus().length} processors, ${(totalmem() / 2 ** 30).toFixed(0)} GiB, Node ${process.versions.node}, ${process.platform}; load average ${page.loadBefore.toFixed(1)} before and ${(loadavg()[0] ?? 0).toFixed(1)} at the end, of which the measured processes themselves make one or two.`,
    '',
    `The peers do the classroom analysis alone: read the file, ambient from the first 18 s, the hottest reading as the start, the logarithm of the error fraction between 0.9 and 0.1, a line through the origin. Their scripts are in \`bench/peers/\`. \`emberline analyze\` finds the parts of the trial, fits, judges whether one exponential is adequate and makes up the uncertainty as well. As a check from outside, the time constants through the origin must agree within ${100 * agreement} %, or the command fails.`,
    '',
    ...peers.map(({ name, versions }) => `- ${name}: ${versions}`),
    ...missing.map((what) => `- not found here, and not measured: ${what}`),
    ...comparisons.flatMap((one) => ['', ...comparisonLines(one, page.own)]),
    ...(startUps.length === 0 ? [] : ['', ...startUpLines(startUps)]),
    '',
  ].join('\n');
}

function comparisonLines(comparison: Comparison, own: string): string[] {
  const { millions, size, runs, summaries, timeConstants } = comparison;
  const reference = summaries.get(own)?.seconds ?? Number.NaN;
  return [
    `## ${millions} million samples, ${(size / 1e6).toFixed(1)} MB, ${runs} runs each`,
    '',
    row('process', 'time in s', 'times as long as Emberline', 'peak memory', 'τ through the origin in s'),
    row('---', '---', '---', '---', '---'),
    ...[...summaries].map(([name, summary]) =>
      row(
        name,
        `${seconds(summary.seconds)} (${seconds(summary.least)} to ${seconds(summary.most)})`,
        (summary.seconds / reference).toFixed(2),
        mebibytes(summary.memory),
        timeConstants.get(name)?.toFixed(4) ?? '',
      ),
    ),
  ];
}

function startUpLines(startUps: readonly StartUp[]): string[] {
  return [
    '## Start-up',
    '',
    row('what', 'command', 'time in ms', 'meant to stay below'),
    row('---', '---', '---', '---'),
    ...startUps.map(({ what, command, target, summary: { seconds: s, least, most } }) =>
      row(what, `\`${command}\``, `${ms(s)} (${ms(least)} to ${ms(most)})`, target),
    ),
  ];
}

const ms = (s: number) => (1000 * s).toFixed(0);

/** Seconds that whole processes took, and whether what is asked of them is met. */
export interface ClassTimes {
  readonly recordings: number;
  readonly groups: number;
  /** Nothing kept, each round on one processor and on two. */
  readonly cold: readonly { readonly one: number; readonly two: number }[];
  /** Some recordings named to `analyze`, without an experiment: on one processor and on two. */
  readonly analyze: { readonly recordings: number; readonly one: number; readonly two: number };
  /** Nothing changed since, each run. */
  readonly classAgain: readonly number[];
  readonly exportAgain: readonly number[];
  /** Load average of a minute before and at the end. */
  readonly load: readonly [number, number];
}

/** Two processors are at least so many times as fast as one. */
export const leastRatio = 1.8;
/** With nothing changed a class takes less, s. */
export const mostAgain = 1;

export const middle = (times: readonly number[]) =>
  [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? Number.NaN;

/** The best of the rounds: what else runs on a machine only ever makes a round worse. */
export const ratioOf = (rounds: ClassTimes['cold']) => Math.max(...rounds.map(({ one, two }) => one / two));

const title = '## A class of recordings';
const seconds = (s: number) => s.toFixed(s < 10 ? 2 : 1);
const several = (times: readonly number[]) =>
  `${seconds(middle(times))} (${seconds(Math.min(...times))} to ${seconds(Math.max(...times))})`;
const said = (met: boolean) => (met ? 'met' : 'missed');

/** The part of docs/performance.md about a class. */
export function classSection(times: ClassTimes): string {
  const { cold, analyze, classAgain, exportAgain } = times;
  const ratio = ratioOf(cold);
  const again = middle(classAgain);
  return [
    title,
    '',
    `Written by \`npm run bench-class\`: ${times.recordings} recordings of one to two minutes at 100 Hz of ${times.groups} groups, from seeds; whole processes, the processors set aside by taskset; load average ${times.load[0].toFixed(1)} before and ${times.load[1].toFixed(1)} at the end, of which the measured processes make up to two.`,
    '',
    '| what | one processor, s | two processors, s | ratio |',
    '| --- | --- | --- | --- |',
    ...cold.map(
      ({ one, two }, i) =>
        `| \`emberline class\`, nothing kept, round ${i + 1} | ${seconds(one)} | ${seconds(two)} | ${(one / two).toFixed(2)} |`,
    ),
    `| \`emberline analyze --brief\`, ${analyze.recordings} of them | ${seconds(analyze.one)} | ${seconds(analyze.two)} | ${(analyze.one / analyze.two).toFixed(2)} |`,
    `| \`emberline class\`, nothing changed, ${classAgain.length} runs | | ${several(classAgain)} | |`,
    `| \`emberline export\`, nothing changed, ${exportAgain.length} runs | | ${several(exportAgain)} | |`,
    '',
    `Two processors are to be at least ${leastRatio} times as fast as one: ${ratio.toFixed(2)}, ${said(ratio >= leastRatio)}. With nothing changed the class is to take less than ${mostAgain} s: ${seconds(again)} s, ${said(again < mostAgain)}.`,
    '',
  ].join('\n');
}

/** The part about a class in a page; null where it has none. */
export function classSectionIn(page: string): string | null {
  const from = page.indexOf(`${title}\n`);
  if (from < 0) return null;
  const to = page.indexOf('\n## ', from);
  return `${page.slice(from, to < 0 ? undefined : to).trimEnd()}\n`;
}

/** A page with this part about a class, in place of the one that it has or at its end; null leaves it as it is. */
export function withClassSection(page: string, section: string | null): string {
  if (section === null) return page;
  const before = classSectionIn(page);
  return before === null ? `${page.trimEnd()}\n\n${section}` : page.replace(before, () => section);
}

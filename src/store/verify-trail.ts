import type { Finding } from './finding.ts';
import { deeds } from './trail-deeds.ts';
import { readTrail } from './trail-read.ts';

/** What the trail says that there must be. */
export interface Told {
  readonly lines: number;
  readonly days: number;
  /** The last line; null where there is none. */
  readonly end: { readonly number: number; readonly chain: string } | null;
  /** SHA-256 of files that were kept, by their paths; of each the last one that was kept there. */
  readonly kept: ReadonlyMap<string, string>;
  /** SHA-256 of the experiment file as it was last saved from the page; null where it never was. */
  readonly experiment: string | null;
  readonly findings: readonly Finding[];
}

const keeping: readonly string[] = [deeds['recording-kept'], deeds['sheet-taken'], deeds['values-entered']];

/** Reads the trail of a folder, and gathers what it says was kept. */
export async function toldByTrail(folder: string): Promise<Told> {
  const kept = new Map<string, string>();
  const findings: Finding[] = [];
  let experiment: string | null = null;
  let end: Told['end'] = null;
  let lines = 0;
  let days = 0;
  for await (const day of readTrail(folder)) {
    days += 1;
    lines += day.lines.length;
    for (const fault of day.faults) findings.push({ kind: 'fault', message: `${fault}.` });
    for (const line of day.lines) {
      if (keeping.includes(line.done) && line.sha256 !== '') kept.set(line.about, line.sha256);
      if (line.done === deeds['experiment-saved']) experiment = line.sha256;
      end = { number: line.number, chain: line.chain };
    }
    if (day.torn) {
      findings.push({
        kind: 'note',
        message: `trail/${day.day}.tsv ends in the middle of a line: a program was killed while it wrote. The next line that is written takes it out and says so.`,
      });
    }
  }
  return { lines, days, end, kept, experiment, findings };
}

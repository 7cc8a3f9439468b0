import { statSync } from 'node:fs';
import { largeTrial } from '../../bench/large-trial.ts';
import { type Command, type Measured, measured, type Summary, summaryOf } from './measure.ts';

/** All processes on one recording. */
export interface Comparison {
  readonly millions: number;
  /** Bytes. */
  readonly size: number;
  readonly runs: number;
  readonly summaries: ReadonlyMap<string, Summary>;
  /** Time constant by the regression through the origin, s. */
  readonly timeConstants: ReadonlyMap<string, number>;
}

/**
 * By how much two programs' time constants may differ, as a part: they take the hottest reading for the start, one of
 * single readings and one of block means.
 */
export const agreement = 0.002;

/**
 * Runs all commands on one recording, in turn, so that what else the machine does falls on all of them.
 *
 * @param own whose time constant the others are held against
 * @param again the same program on other versions of Node
 * @param peers who print theirs
 * @param bare who read and say nothing
 * @throws Error where a command fails, or a time constant is another one
 */
export async function compare(
  millions: number,
  runs: number,
  own: Command,
  again: readonly Command[],
  peers: readonly Command[],
  bare: readonly Command[],
): Promise<Comparison> {
  const path = largeTrial(millions);
  const all = [own, ...again, ...peers, ...bare];
  const ours = new Set([own, ...again].map(({ name }) => name));
  const taken = new Map<string, Measured[]>(all.map(({ name }) => [name, []]));
  for (let run = 0; run < runs; run++) {
    for (const { name, words } of all) {
      // A recording that has to be repeated is analyzed all the same.
      taken.get(name)?.push(await measured([...words, path], ours.has(name) ? [0, 1] : [0]));
    }
  }
  const last = (name: string) => taken.get(name)?.at(-1)?.output ?? '';
  const timeConstants = new Map([...ours].map((name) => [name, throughOrigin(last(name))]));
  for (const { name } of peers) timeConstants.set(name, Number.parseFloat(last(name)));
  requireAgreement(timeConstants, own.name);
  return {
    millions,
    size: statSync(path).size,
    runs,
    summaries: new Map([...taken].map(([name, list]) => [name, summaryOf(list)])),
    timeConstants,
  };
}

/** The classroom's value of the regression through the origin, s; not-a-number where there is none. */
function throughOrigin(json: string): number {
  const found = /"method":"log-linear-origin".*?"classroom":\{"value":([\d.]+)/.exec(json);
  return Number.parseFloat(found?.[1] ?? '');
}

/** The check against implementations outside this project. */
function requireAgreement(timeConstants: ReadonlyMap<string, number>, own: string): void {
  const reference = timeConstants.get(own) ?? Number.NaN;
  for (const [name, value] of timeConstants) {
    if (Math.abs(value / reference - 1) <= agreement) continue;
    throw new Error(
      `${name} gives a time constant of ${value} s, ${own} ${reference} s: they must agree within ${100 * agreement} %.`,
    );
  }
}

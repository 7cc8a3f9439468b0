import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';

/** GNU time, which says the peak memory of a process. */
export const gnuTime = existsSync('/usr/bin/time') ? '/usr/bin/time' : null;

/** No process takes longer, s. */
const longest = 120;

export interface Command {
  readonly name: string;
  /** Program and arguments; the file is put behind them. */
  readonly words: readonly string[];
}

/** One process from its start to its end. */
export interface Measured {
  readonly seconds: number;
  /** Peak resident memory, MiB; null where GNU time is missing. */
  readonly memory: number | null;
  readonly output: string;
}

/**
 * Runs a process and waits for its end.
 *
 * @param statuses of success
 * @throws Error where it fails or takes too long
 */
export async function measured(words: readonly string[], statuses: readonly number[]): Promise<Measured> {
  const [program = '', ...rest] = gnuTime === null ? words : [gnuTime, '-f', 'peak %M', ...words];
  const start = performance.now();
  const child = spawn(program, rest, { stdio: ['ignore', 'pipe', 'pipe'], timeout: longest * 1000 });
  let output = '';
  let errors = '';
  child.stdout.on('data', (piece) => {
    if (output.length < 1 << 20) output += piece;
  });
  child.stderr.on('data', (piece) => {
    errors = (errors + piece).slice(-4096);
  });
  const status = await new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  const seconds = (performance.now() - start) / 1000;
  if (status === null || !statuses.includes(status)) {
    throw new Error(`${words.join(' ')} ended with status ${status}:\n${errors}`);
  }
  const kilobytes = Number(/peak (\d+)\s*$/.exec(errors)?.[1] ?? Number.NaN);
  return { seconds, memory: Number.isFinite(kilobytes) ? kilobytes / 1024 : null, output };
}

/** What several runs of a process came to. */
export interface Summary {
  /** Median, least and most, s. */
  readonly seconds: number;
  readonly least: number;
  readonly most: number;
  /** The largest peak, MiB. */
  readonly memory: number | null;
}

export function summaryOf(runs: readonly Measured[]): Summary {
  const sorted = runs.map(({ seconds }) => seconds).sort((a, b) => a - b);
  const peaks = runs.flatMap(({ memory }) => (memory === null ? [] : [memory]));
  return {
    seconds: sorted[Math.floor(sorted.length / 2)] ?? Number.NaN,
    least: sorted[0] ?? Number.NaN,
    most: sorted.at(-1) ?? Number.NaN,
    memory: peaks.length === 0 ? null : Math.max(...peaks),
  };
}

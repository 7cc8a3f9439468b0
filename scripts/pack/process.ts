import { spawn } from 'node:child_process';
import { once } from 'node:events';

/** How a process ended, and what it said. */
export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
  readonly seconds: number;
}

/**
 * Runs a program to its end.
 *
 * @param folder in which it runs
 * @throws Error where it cannot be started
 */
export async function runIn(folder: string, program: string, words: readonly string[]): Promise<Ended> {
  const began = performance.now();
  const child = spawn(program, words, { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] });
  let stdout = '';
  let stderr = '';
  child.stdout.setEncoding('utf8').on('data', (piece: string) => {
    stdout += piece;
  });
  child.stderr.setEncoding('utf8').on('data', (piece: string) => {
    stderr += piece;
  });
  const [status] = await once(child, 'close');
  const seconds = (performance.now() - began) / 1000;
  return { status: typeof status === 'number' ? status : null, stdout, stderr, seconds };
}

/** The same, where anything but success is a fault. @throws Error with what the program said */
export async function mustRun(folder: string, program: string, words: readonly string[]): Promise<Ended> {
  const ended = await runIn(folder, program, words);
  if (ended.status === 0) return ended;
  throw new Error(
    `${program} ${words.join(' ')} ended with ${ended.status}:\n${ended.stdout}${ended.stderr}`,
  );
}

import { PassThrough } from 'node:stream';
import { run } from '../../src/cli/program.ts';

/** What a command wrote, and how it ended. */
export interface Ran {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/**
 * Runs a command inside this process.
 *
 * @param words as they would be typed behind the program's name
 * @param terminal whether both streams claim to be terminals
 */
export async function runCommand(
  words: readonly string[],
  environment: NodeJS.ProcessEnv = {},
  terminal = false,
): Promise<Ran> {
  const stdout = Object.assign(new PassThrough(), { isTTY: terminal });
  const stderr = Object.assign(new PassThrough(), { isTTY: terminal });
  const status = await run(words, { stdout, stderr, environment });
  return { status, stdout: text(stdout), stderr: text(stderr) };
}

function text(stream: PassThrough): string {
  const read: unknown = stream.read();
  return Buffer.isBuffer(read) ? read.toString('utf8') : '';
}

/** Runs commands one after another in a process of its own: argument 1 is their words, in JSON. */
import { z } from 'zod';
import { run } from '../../src/cli/program.ts';

const commands = z.array(z.array(z.string())).parse(JSON.parse(process.argv[2] ?? ''));
const { stdout, stderr, env } = process;
for (const words of commands) {
  const status = await run(words, { stdout, stderr, environment: env });
  if (status !== 0) process.exitCode = status;
}

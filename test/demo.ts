import { PassThrough } from 'node:stream';
import { alone } from '../scripts/demo/crew.ts';
import { ensureDemo } from '../scripts/demo/ensure.ts';

/** Makes the demo before any test where it is not there, or older than the code that makes it. */
export default async function makeDemo(): Promise<void> {
  const { stderr } = process;
  await ensureDemo('.', alone, { stdout: new PassThrough(), stderr, environment: process.env });
}

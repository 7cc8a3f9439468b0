import { PassThrough } from 'node:stream';
import { alone } from '../scripts/demo/crew.ts';
import { ensureDemo } from '../scripts/demo/ensure.ts';
import { unpackBrowser } from './browser/support-browser.ts';

/** Makes what many tests need before any of them runs: the demo, where it is older than the code, and the browser. */
export default async function makeReady(): Promise<void> {
  const { stderr } = process;
  await ensureDemo('.', alone, { stdout: new PassThrough(), stderr, environment: process.env });
  await unpackBrowser();
}

/**
 * Makes demo/thornwick, the recordings of an invented course, from a seed; does nothing where it is there already and
 * nothing that it is made by has changed. Run with `npm run demo`.
 */
import { availableParallelism } from 'node:os';
import { crewOf } from './demo/crew.ts';
import { ensureDemo } from './demo/ensure.ts';

const crew = crewOf(new URL('make-demo-worker.js', import.meta.url), availableParallelism());
const { made, recordings, seconds } = await ensureDemo('.', crew, {
  stdout: process.stdout,
  stderr: process.stderr,
  environment: process.env,
});
if (made) console.log(`Made demo/thornwick: ${recordings} recordings in ${seconds.toFixed(0)} s.`);

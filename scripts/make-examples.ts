/**
 * Writes examples/thornwick: the recordings of an invented course, from a seed. The same seed gives the same
 * bytes. Run with `npm run examples`.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { loggerText, simulateTrial, thornwickRecordings } from '../src/practice/index.ts';
import { thermocoupleEmf } from '../src/sensing/index.ts';

const seed = 20260309;
const folder = join('examples', 'thornwick', 'recordings');

for (const recording of thornwickRecordings(seed)) {
  const { temperature } = simulateTrial(recording.trial);
  const { logged } = recording;
  const readings =
    logged.kind === 'degrees'
      ? temperature
      : temperature.map((t) => logged.zero + logged.gain * thermocoupleEmf('T', t));
  const path = join(folder, recording.path);
  mkdirSync(dirname(path), { recursive: true });
  const text = loggerText([readings], recording.trial.rate, recording.text);
  writeFileSync(path, Buffer.from(text, recording.encoding === 'latin-1' ? 'latin1' : 'utf8'));
  console.log(`${path}  true time constant ${recording.trial.timeConstant} s`);
}

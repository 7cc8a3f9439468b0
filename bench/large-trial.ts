import { closeSync, existsSync, openSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { plainTrial, simulateTrial } from '../test/support/trial.ts';

/** Hz; fewer samples are taken more slowly, so that a whole trial is among them. */
const rateOf = (millions: number) => (millions >= 5 ? 10_000 : millions * 2500);

/** A trial at 10 kHz, or more slowly where there are few samples, as a text file below the system's temporary folder, written once. @param millions samples, 1e6 */
export function largeTrial(millions: number): string {
  const path = join(tmpdir(), `emberline-analyzing-${millions}.txt`);
  const rate = rateOf(millions);
  if (!existsSync(path)) write(path, (millions * 1e6) / rate, rate);
  return path;
}

function write(path: string, seconds: number, rate: number): void {
  const cooling = (seconds - plainTrial.baseline - plainTrial.heating) / plainTrial.timeConstant;
  const { temperature } = simulateTrial({
    ...plainTrial,
    rate,
    coolingTimeConstants: Math.max(4, cooling),
    correlatedNoise: 0.3,
  });
  const file = openSync(path, 'w');
  let text = 'Time (s)\tTemperature (degC)\n';
  temperature.forEach((t, i) => {
    text += `${(i / rate).toFixed(4)}\t${t.toFixed(6)}\n`;
    if (text.length > 1 << 20) {
      writeSync(file, text);
      text = '';
    }
  });
  writeSync(file, text);
  closeSync(file);
}

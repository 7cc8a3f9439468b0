/**
 * Times the reader on a synthetic recording of 6 million rows (113 MB). From the root of the project:
 *
 *   npm run build && node build/bench-reading.js
 *
 * A number as argument changes how many million rows there are.
 */
import { createHash } from 'node:crypto';
import { closeSync, existsSync, openSync, readFileSync, statSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readRecordingFile } from '../src/recording/files.ts';
import { createReader } from '../src/recording/index.ts';

const millions = Number(process.argv[2] ?? 6);
const path = join(tmpdir(), `emberline-bench-${millions}.csv`);

function write(): void {
  const file = openSync(path, 'w');
  let text = 'Time (s),Temperature (degC)\n';
  let state = 1;
  for (let i = 0; i < millions * 1e6; i++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const noise = state / 2 ** 32 - 0.5;
    const t = i / 10_000;
    const value = 22 + 70 * Math.exp(-t / 100) + noise;
    text += `${t.toFixed(4)},${value.toFixed(millions === 6 ? 6 : 4)}\n`;
    if (text.length > 1 << 20) {
      writeSync(file, text);
      text = '';
    }
  }
  writeSync(file, text);
  closeSync(file);
}

async function median(what: string, run: () => unknown): Promise<void> {
  const times: number[] = [];
  for (let i = 0; i < 5; i++) {
    const start = performance.now();
    await run();
    times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  const list = times.map((t) => t.toFixed(0)).join(' ');
  console.log(`${what}: median ${(times[2] ?? 0).toFixed(0)} ms (${list})`);
}

if (!existsSync(path)) write();
console.log(`${path}: ${(statSync(path).size / 1e6).toFixed(1)} MB`);
await median('file to recording, with SHA-256', () => readRecordingFile(path));
const peak = process.resourceUsage().maxRSS / 1024;
console.log(`peak resident memory so far: ${peak.toFixed(0)} MiB`);
const all = readFileSync(path);
await median('SHA-256 alone', () => createHash('sha256').update(all).digest('hex'));
await median('reader alone, pieces of 2 MiB in memory', () => {
  const reader = createReader();
  for (let at = 0; at < all.length; at += 1 << 21) reader.push(all.subarray(at, at + (1 << 21)));
  return reader.finish();
});

/**
 * Follows a recording that grows by a second of readings at a time, and times a look, the exact recording and its
 * coarse view, as shares of the second. From the root of the project:
 *
 *   npm run build && node --expose-gc build/bench-following.js
 *
 * A number as argument is the rate in Hz, 1000 without it; `stamps` as a second argument lets the rows of a second
 * share one time of day.
 */
import { appendFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { followRecording } from '../src/recording/files.ts';

const rate = Number(process.argv[2] ?? 1000);
const stamps = process.argv[3] === 'stamps';
const path = join(tmpdir(), `emberline-following-${process.pid}.csv`);

function clock(i: number): string {
  return new Date(43_200_000 + 1000 * Math.floor(i / rate)).toISOString().slice(11, 19);
}

function row(i: number): string {
  const value = 22 + 90 * Math.exp(-i / rate / 40) + 0.05 * Math.sin(i * 12.9898);
  return `${stamps ? clock(i) : (i / rate).toFixed(4)},${value.toFixed(4)}\n`;
}

/** CPU time, ms: other work on the machine counts less than by the clock. */
async function cost(run: () => unknown): Promise<number> {
  const start = process.cpuUsage();
  await run();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}

// From fewer seconds, stamps of whole seconds do not tell the rate.
const head = 3;
const rows = (from: number, to: number) =>
  Array.from({ length: to - from }, (_, k) => row(from + k)).join('');
writeFileSync(path, `Time (${stamps ? 'h:m:s' : 's'}),T (°C)\n${rows(0, head * rate)}`);
const file = followRecording(path);
const before = process.memoryUsage().arrayBuffers;
const times = { look: [] as number[], recording: [] as number[], coarse: [] as number[] };
for (let s = 1; s <= 600; s++) {
  appendFileSync(path, rows((head + s - 1) * rate, (head + s) * rate));
  times.look.push(await cost(() => file.poll()));
  times.recording.push(await cost(() => file.recording()));
  times.coarse.push(await cost(() => file.coarse(2000)));
  if (![10, 60, 300, 600].includes(s)) continue;
  const means = Object.entries(times).map(([what, list]) => {
    const mean = list.reduce((sum, x) => sum + x, 0) / list.length;
    list.length = 0;
    return `${what} ${mean.toFixed(2)} ms`;
  });
  globalThis.gc?.();
  const kept = (process.memoryUsage().arrayBuffers - before) / 2 ** 20;
  console.log(`up to ${s} s: ${means.join(', ')} a second; ${kept.toFixed(1)} MiB kept`);
}
await file.close();
rmSync(path);

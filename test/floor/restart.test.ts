import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { join, resolve } from 'node:path';
import { build } from 'rolldown';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import type { FloorNow } from '../../src/floor/types.ts';
import { BenchFloor, trialPieces, wholeResult } from './bench-floor.ts';

let built = '';
let bench: BenchFloor;
beforeAll(async () => {
  // Beside the packages, for those that stay outside the bundle.
  built = mkdtempSync(resolve('node_modules', '.floor-'));
  await build({
    input: 'test/floor/watcher-process.ts',
    platform: 'node',
    external: [
      /^node:/,
      ...builtinModules,
      /^@resvg\//,
      /^@observablehq\//,
      /^linkedom/,
      /^@expo-google/,
      /^@duckdb\//,
    ],
    output: { file: join(built, 'watcher.mjs'), format: 'esm', codeSplitting: false },
  });
}, 60_000);
afterAll(() => rmSync(built, { recursive: true }));
beforeEach(() => {
  bench = new BenchFloor();
});
afterEach(() => bench.end());

/** A watcher in a process of its own, stepped by messages. */
class Watcher {
  readonly #process: ChildProcess;

  constructor(folder: string, now: number) {
    this.#process = fork(join(built, 'watcher.mjs'), [folder, String(now)], { execArgv: [] });
  }

  async opened(): Promise<FloorNow> {
    const [now] = await once(this.#process, 'message');
    return now;
  }

  async look(now: number, settle = false): Promise<FloorNow> {
    const answer = this.opened();
    this.#process.send({ now, settle });
    return answer;
  }

  async kill(): Promise<void> {
    const exit = once(this.#process, 'exit');
    this.#process.kill('SIGKILL');
    await exit;
  }
}

test('a power cut of logger and watcher loses nothing and doubles nothing', async () => {
  const first = 'recordings/A/A1/brass-12_120-1.txt';
  const second = 'recordings/A/A1/brass-12_120-2.txt';
  let watcher = new Watcher(bench.folder, bench.now);
  await watcher.opened();
  const record = async (path: string, pieces: readonly string[]) => {
    await bench.logger.open(bench.file(path));
    for (const piece of pieces) {
      await bench.write(path, piece);
      bench.now += 1000;
      await watcher.look(bench.now);
    }
  };
  const pieces = trialPieces();
  await record(first, pieces);
  // The second trial is cut off in the middle of a line, and the watcher with it.
  const cut = trialPieces({ seed: 2 });
  const torn = cut.slice(0, 70).join('').slice(0, -7);
  await record(second, cut.slice(0, 60));
  await bench.logger.write(torn.slice(cut.slice(0, 60).join('').length));
  bench.stamp(second);
  await Promise.all([watcher.kill(), bench.logger.cut()]);

  bench.now += 90_000;
  watcher = new Watcher(bench.folder, bench.now);
  await watcher.opened();
  // The logger goes on with a third file; the watcher dies once more while it does.
  const third = 'recordings/A/A1/brass-12_120-3.txt';
  const last = trialPieces({ seed: 3 });
  await record(third, last.slice(0, 75));
  await watcher.kill();
  watcher = new Watcher(bench.folder, bench.now);
  await watcher.opened();
  await record(third, last.slice(75));
  for (let i = 0; i < 14; i++) {
    bench.now += 1000;
    await watcher.look(bench.now);
  }
  await watcher.look(bench.now + 1000, true);
  const now = await watcher.look(bench.now + 2000, true);
  await watcher.kill();

  const tile = now.benches.find((one) => one.bench === 'bench-1');
  expect(tile?.trials.map(({ path }) => path)).toEqual([first, second, third]);
  for (const { path, timeConstant, verdict } of tile?.trials ?? []) {
    const whole = await wholeResult(bench.folder, path, 'brass-12');
    expect([timeConstant, verdict]).toEqual([whole.timeConstant?.value ?? null, whole.verdict]);
  }
  expect(readdirSync(join(bench.folder, 'recordings/A/A1'))).toHaveLength(3);
}, 60_000);

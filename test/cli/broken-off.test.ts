import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';

const root = mkdtempSync(join(tmpdir(), 'emberline-broken-off-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const demo = join('demo', 'thornwick');
const main = resolve('dist', 'main.js');
const folder = join(root, 'course');
const results = join(folder, 'results');
for (const group of ['A1', 'A2']) {
  const recordings = join('recordings', 'A', group);
  cpSync(join(demo, recordings), join(folder, recordings), { recursive: true });
}
cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
const count = ['A1', 'A2'].flatMap((group) => readdirSync(join(folder, 'recordings', 'A', group))).length;

/** When each result that is kept was written. */
function kept(): Map<string, number> {
  if (!existsSync(results)) return new Map();
  const paths = readdirSync(results, { recursive: true, encoding: 'utf8' }).filter((path) =>
    path.endsWith('.txt.json'),
  );
  return new Map(paths.map((path) => [path, statSync(join(results, path)).ctimeMs]));
}

test('an export that is broken off at the keyboard goes on where it was, to the same table', async () => {
  expect(existsSync(main), 'run npm run build first').toBe(true);
  const [first, second] = [join(root, 'first.csv'), join(root, 'second.csv')];
  const child = spawn(process.execPath, [main, 'export', folder, '--to', first], { stdio: 'ignore' });
  const ended = new Promise((settle) => child.once('exit', (_, signal) => settle(signal)));
  await vi.waitFor(() => expect(kept().size).toBeGreaterThan(0), { timeout: 30_000, interval: 5 });
  child.kill('SIGINT');
  expect(await ended).toBe('SIGINT');
  expect(existsSync(first)).toBe(false);
  const before = kept();
  expect(before.size).toBeLessThan(count);

  const export_ = (to: string) => spawnSync(process.execPath, [main, 'export', folder, '--to', to]).status;
  expect(export_(first)).toBe(0);
  const after = kept();
  expect(after.size).toBe(count);
  for (const [path, written] of before) expect(after.get(path)).toBe(written);

  rmSync(results, { recursive: true });
  expect(export_(second)).toBe(0);
  expect(readFileSync(second, 'utf8')).toBe(readFileSync(first, 'utf8'));
}, 60_000);

import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { build } from 'rolldown';
import { afterAll, beforeAll, expect, test } from 'vitest';

const recording = 'recordings/A/A1/brass-12_120-1.txt';
let scratch = '';
let built = '';

beforeAll(async () => {
  scratch = mkdtempSync(join(tmpdir(), 'emberline-same-'));
  // Beside the packages, for those that stay outside the bundle.
  built = mkdtempSync(resolve('node_modules', '.documents-'));
  await build({
    input: 'test/cli/documents-process.ts',
    platform: 'node',
    external: [
      /^node:/,
      ...builtinModules,
      /^@(resvg|observablehq|expo-google-fonts|fontsource-variable|myriaddreamin|duckdb)\//,
      /^linkedom/,
      /^write-excel-file/,
      /^read-excel-file/,
    ],
    output: { file: join(built, 'documents.mjs'), format: 'esm', codeSplitting: false },
  });
}, 120_000);
afterAll(() => {
  for (const path of [scratch, built]) rmSync(path, { recursive: true, force: true });
});

/** Everything that is made of the same course, by a process of its own whose clock stands in another zone. */
async function madeIn(name: string, zone: string): Promise<Map<string, Buffer>> {
  const course = join(scratch, name, 'course');
  const to = join(scratch, name, 'made');
  mkdirSync(join(course, 'recordings/A/A1'), { recursive: true });
  mkdirSync(to);
  for (const path of ['experiment.yaml', recording]) cpSync(join('demo/thornwick', path), join(course, path));
  const report = (file: string, ...words: string[]) => ['report', course, ...words, '--to', join(to, file)];
  const commands = [
    report('worked.pdf', '--worked', recording, '--paper', 'us-letter'),
    report('group.pdf', '--group', 'A1', '--pages'),
    report('sheet.pdf', '--bench-sheet'),
    report('briefing.pdf', '--briefing'),
    report('slides.html', '--briefing', '--html'),
    ['export', course, '--to', join(to, 'results')],
    ['export', course, '--cooling', recording, '--to', join(to, 'cooling.xlsx')],
  ];
  await promisify(execFile)(process.execPath, [join(built, 'documents.mjs'), JSON.stringify(commands)], {
    env: { ...process.env, TZ: zone },
  });
  const files = readdirSync(to, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  return new Map(
    files.map(({ parentPath, name: file }) => {
      const path = join(parentPath, file);
      return [path.slice(to.length), readFileSync(path)];
    }),
  );
}

test('two processes, a day apart by their zones, make the same bytes of every document and export', async () => {
  const [first, second] = await Promise.all([
    madeIn('first', 'Pacific/Kiritimati'),
    madeIn('second', 'Pacific/Pago_Pago'),
  ]);
  expect([...first.keys()].sort()).toEqual([...second.keys()].sort());
  expect(first.size).toBe(11);
  for (const [name, bytes] of first) {
    expect(bytes.equals(second.get(name) ?? Buffer.alloc(0)) ? null : name).toBeNull();
    expect(bytes.length).toBeGreaterThan(500);
  }
}, 240_000);

import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'rolldown';
import { afterAll, beforeAll, expect, test } from 'vitest';

const recording = 'recordings/A/A1/brass-12_120-1.txt';
let folder = '';
let built = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-same-'));
  mkdirSync(join(folder, 'recordings/A/A1'), { recursive: true });
  for (const path of ['experiment.yaml', recording]) {
    cpSync(join('demo/thornwick', path), join(folder, path));
  }
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
  for (const path of [folder, built]) rmSync(path, { recursive: true, force: true });
});

/** Everything that is made of the folder, by a process of its own whose clock stands in another zone. */
function madeInto(name: string, zone: string): Map<string, Buffer> {
  const to = join(folder, name);
  mkdirSync(to);
  const report = (file: string, ...words: string[]) => ['report', folder, ...words, '--to', join(to, file)];
  const commands = [
    report('trial.pdf', '--trial', recording),
    report('worked.pdf', '--worked', recording, '--paper', 'us-letter'),
    report('group.pdf', '--group', 'A1', '--pages'),
    report('group.html', '--group', 'A1', '--html'),
    report('sheet.pdf', '--bench-sheet'),
    report('briefing.pdf', '--briefing'),
    report('slides.html', '--briefing', '--html'),
    ['export', folder, '--to', join(to, 'results')],
    ['export', folder, '--cooling', recording, '--to', join(to, 'cooling.xlsx')],
  ];
  execFileSync(process.execPath, [join(built, 'documents.mjs'), JSON.stringify(commands)], {
    env: { ...process.env, TZ: zone },
    stdio: 'pipe',
  });
  const files = readdirSync(to, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  return new Map(
    files.map((one) => [
      join(one.parentPath, one.name).slice(to.length),
      readFileSync(join(one.parentPath, one.name)),
    ]),
  );
}

test('two processes, a day apart by their zones, make the same bytes of every document and export', () => {
  const first = madeInto('first', 'Pacific/Kiritimati');
  // What the first one kept of its analysis must not tell in the second, nor the other way round.
  const second = madeInto('second', 'Pacific/Pago_Pago');
  expect([...first.keys()].sort()).toEqual([...second.keys()].sort());
  expect(first.size).toBe(13);
  for (const [name, bytes] of first) {
    expect(bytes.equals(second.get(name) ?? Buffer.alloc(0)) ? null : name).toBeNull();
    expect(bytes.length).toBeGreaterThan(500);
  }
}, 180_000);

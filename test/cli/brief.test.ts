import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runCommand } from './run.ts';

const course = join('demo', 'thornwick');
const good = join(course, 'recordings', 'A', 'A1', 'brass-12_120-1.txt');
const cut = join(course, 'recordings', 'A', 'A2', 'brass-20_120-1.txt');

test('lists recordings a line each, and what is to be looked at by its codes', async () => {
  const { status, stdout } = await runCommand(['analyze', good, cut, '--experiment', course, '--brief']);
  expect(status).toBe(1);
  const lines = stdout.trimEnd().split('\n');
  expect(lines).toHaveLength(4);
  expect(lines[1]).toMatch(/A1\/brass-12_120-1\.txt \d\d\.\d+ ± 0\.\d+ s +[\u2800-\u28ff]{8} {2}usable$/);
  expect(lines[2]).toMatch(/ {2}repeat$/);
  expect(lines[3]?.trim()).toBe('cooling-short');
  for (const line of lines) expect([...line].length).toBeLessThanOrEqual(80);
});

test('a recording without a time constant still has its line', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'emberline-brief-'));
  const flat = join(folder, 'flat.txt');
  const rows = Array.from({ length: 2000 }, (_, i) => `${(i / 100).toFixed(2)}\t${20 + (i % 7) / 100}`);
  writeFileSync(flat, ['time s\tsphere degC', ...rows].join('\n'));
  const { status, stdout } = await runCommand(['analyze', flat, '--brief']);
  rmSync(folder, { recursive: true });
  expect(status).toBe(1);
  const [, line = '', codes = ''] = stdout.split('\n');
  expect(line).toMatch(/flat\.txt +none +repeat$/);
  expect(codes).toContain('heating-missing');
});

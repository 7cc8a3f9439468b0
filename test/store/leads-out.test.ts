import { mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { leadsOut } from '../../src/store/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-leads-out-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

test('a place where nothing is yet lies in its folder, however that is named', async () => {
  expect(await leadsOut(root, join(root, 'results', 'a.json'))).toBe(false);
  // `emberline class .` in the folder itself.
  expect(await leadsOut('.', join('.', 'no-such-folder', 'a.json'))).toBe(false);
  expect(await leadsOut('.', join('..', 'no-such-folder', 'a.json'))).toBe(true);
});

test('a place behind a link that leads out does not, whether anything is there or not', async () => {
  symlinkSync(tmpdir(), join(root, 'out'));
  expect(await leadsOut(root, join(root, 'out'))).toBe(true);
  expect(await leadsOut(root, join(root, 'out', 'no-such-folder', 'a.json'))).toBe(true);
});

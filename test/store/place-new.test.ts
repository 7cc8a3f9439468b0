import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { placeNew } from '../../src/store/place-new.ts';

const base = mkdtempSync(join(tmpdir(), 'emberline-place-'));
/** Another disk than the one of the folder: between two, no file has two names. */
const memory = existsSync('/dev/shm') ? mkdtempSync('/dev/shm/emberline-place-') : base;
afterAll(() => {
  for (const folder of [base, memory]) rmSync(folder, { recursive: true, force: true });
});

describe.each([
  ['on one disk', base],
  ['across disks, where there are no second names', memory],
])('A file that gets its place %s', (where, origin) => {
  const place = () => mkdtempSync(join(base, 'folder-'));
  const from = join(origin, 'waiting.bytes');

  test('is really tried on such disks', () => {
    mkdirSync(origin, { recursive: true });
    const same = statSync(origin).dev === statSync(base).dev;
    expect(same).toBe(where === 'on one disk');
  });

  test('is there whole, and nothing is beside it', async () => {
    const folder = place();
    writeFileSync(from, 'x'.repeat(300_000));
    await placeNew(from, join(folder, 'a.txt'));
    expect(readFileSync(join(folder, 'a.txt'), 'utf8')).toBe('x'.repeat(300_000));
    expect(readdirSync(folder)).toEqual(['a.txt']);
  });

  test.each([
    ['a file', (path: string) => writeFileSync(path, 'of before')],
    ['a link that leads nowhere', (path: string) => symlinkSync('/nowhere', path)],
  ])('is not put over %s', async (_, make) => {
    const folder = place();
    make(join(folder, 'a.txt'));
    writeFileSync(from, 'new');
    await expect(placeNew(from, join(folder, 'a.txt'))).rejects.toMatchObject({ code: 'EEXIST' });
    expect(readdirSync(folder)).toEqual(['a.txt']);
  });

  test('is the only one of many for one place', async () => {
    const folder = place();
    const many = Array.from({ length: 12 }, (_, i) => join(origin, `waiting-${i}.bytes`));
    for (const [i, path] of many.entries()) writeFileSync(path, `${i}`.repeat(100_000));
    const placed = await Promise.allSettled(many.map((path) => placeNew(path, join(folder, 'a.txt'))));
    expect(placed.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    const winner = placed.findIndex(({ status }) => status === 'fulfilled');
    expect(readFileSync(join(folder, 'a.txt'), 'utf8')).toBe(`${winner}`.repeat(100_000));
  });
});

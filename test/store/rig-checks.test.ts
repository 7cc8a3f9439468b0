import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { NewRigCheck } from '../../src/rig/index.ts';
import {
  appendRigCheck,
  RigCheckError,
  readRigChecks,
  rigChecksPath,
  withdrawRigCheck,
} from '../../src/store/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-rig-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

let number = 0;
function folder(): string {
  number += 1;
  const path = join(root, String(number));
  mkdirSync(path);
  return path;
}

const gain: NewRigCheck = {
  at: '2026-03-02T10:00:00.000Z',
  who: 'IK',
  bench: 'bench-1',
  kind: 'gain',
  subject: null,
  value: 200.3,
  written: '200.3',
  note: '',
};
const back = { id: 'c1', at: '2026-03-02T11:00:00.000Z', who: 'IK', why: 'other bench' };

describe('the book of rig checks', () => {
  test('is empty where nobody checked anything', async () => {
    expect(await readRigChecks(folder())).toEqual({ checks: [], withdrawn: [] });
  });

  test('keeps checks with their names, and leaves no other file behind', async () => {
    const place = folder();
    await appendRigCheck(place, gain);
    const book = await appendRigCheck(place, { ...gain, written: '201', value: 201 });
    expect(book.checks.map(({ id, value }) => [id, value])).toEqual([
      ['c1', 200.3],
      ['c2', 201],
    ]);
    expect(await readRigChecks(place)).toEqual(book);
    expect(readdirSync(dirname(rigChecksPath(place)))).toEqual(['checks.json']);
  });

  test('keeps what was taken back, once', async () => {
    const place = folder();
    await appendRigCheck(place, gain);
    const book = await withdrawRigCheck(place, back);
    expect(book).toEqual({ checks: [{ id: 'c1', ...gain }], withdrawn: [back] });
    await expect(withdrawRigCheck(place, back)).rejects.toThrow('taken back already');
    await expect(withdrawRigCheck(place, { ...back, id: 'c2' })).rejects.toThrow('there is no check c2');
    await expect(withdrawRigCheck(place, { ...back, why: ' ' })).rejects.toThrow('give both');
    expect(await readRigChecks(place)).toEqual(book);
  });

  test('loses nothing where many write at once', async () => {
    const place = folder();
    await Promise.all(Array.from({ length: 20 }, (_, i) => appendRigCheck(place, { ...gain, value: i })));
    const { checks } = await readRigChecks(place);
    expect(checks.map(({ value }) => value).sort((a, b) => a - b)).toEqual(
      Array.from({ length: 20 }, (_, i) => i),
    );
    expect(new Set(checks.map(({ id }) => id)).size).toBe(20);
  });

  test('refuses a check that it could not read again', async () => {
    const place = folder();
    await expect(appendRigCheck(place, { ...gain, value: Number.NaN })).rejects.toThrow(RigCheckError);
    await expect(appendRigCheck(place, { ...gain, at: 'yesterday' })).rejects.toThrow('at');
    expect(await readRigChecks(place)).toEqual({ checks: [], withdrawn: [] });
  });

  const whole = { about: '', checks: [{ id: 'c1', ...gain }], withdrawn: [] };
  test.each([
    ['{', 'is not JSON'],
    ['[]', 'expected object'],
    [JSON.stringify({ ...whole, checks: [whole.checks[0], whole.checks[0]] }), 'the same id'],
    [
      JSON.stringify({ ...whole, checks: [{ ...whole.checks[0], kind: 'colour' }] }),
      'checks › number 1 › kind',
    ],
    [JSON.stringify({ ...whole, more: 1 }), 'more'],
    [`{"__proto__": ${JSON.stringify(whole)}}`, 'checks'],
    ['\u0000'.repeat(17 << 20), 'larger than 16 MiB'],
  ])('says what is wrong with a file that is not its own', async (text, words) => {
    const place = folder();
    const path = rigChecksPath(place);
    mkdirSync(dirname(path));
    writeFileSync(path, text);
    await expect(readRigChecks(place)).rejects.toThrow(words);
    await expect(appendRigCheck(place, gain)).rejects.toThrow(words);
    expect(readFileSync(path, 'utf8')).toBe(text);
  });

  test('is not looked for in what is no file', async () => {
    const place = folder();
    mkdirSync(rigChecksPath(place), { recursive: true });
    await expect(readRigChecks(place)).rejects.toThrow('is not a file');
  });
});

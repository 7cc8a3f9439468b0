import {
  appendFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { openTrail, readTrail, readTrailDay, type TrailEntry, trailDays } from '../../src/store/index.ts';

const base = mkdtempSync(join(tmpdir(), 'emberline-trail-'));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const newFolder = () => mkdtempSync(join(base, 'folder-'));

const morning = Date.parse('2026-03-02T09:00:00Z');
const who = { role: 'group', group: 'A1', label: 'bench laptop' };
const kept: TrailEntry = {
  who,
  deed: 'recording-kept',
  about: 'recordings/A/x.txt',
  sha256: 'ab'.repeat(32),
};
const signed: TrailEntry = { who, deed: 'signed-in' };

async function faultsOf(folder: string): Promise<readonly string[]> {
  const faults: string[] = [];
  for await (const day of readTrail(folder)) faults.push(...day.faults);
  return faults;
}

const dayOf = (folder: string, day = '2026-03-02') => join(folder, 'trail', `${day}.tsv`);
const textOf = (folder: string, day?: string) => readFileSync(dayOf(folder, day), 'utf8');

async function threeLines() {
  const folder = newFolder();
  const trail = openTrail(folder, { now: () => morning });
  for (const entry of [signed, kept, { ...signed, deed: 'signed-out' as const }]) await trail.write(entry);
  return folder;
}

describe('The trail of a folder', () => {
  test('is text that a person can read, a file a day', async () => {
    const folder = newFolder();
    let now = morning;
    const trail = openTrail(folder, { now: () => now });
    await trail.write(signed);
    now += 86_400_000;
    await trail.write({ ...kept, note: 'handed over as run 3.txt' });
    expect(await trailDays(folder)).toEqual(['2026-03-02', '2026-03-03']);
    const [header, line, end] = textOf(folder, '2026-03-03').split('\n');
    expect(header).toBe('number\ttime\trole\tgroup\twho\tdone\tfile\tsha256\tnote\tchain');
    expect(line?.split('\t').slice(0, -1)).toEqual([
      '2',
      '2026-03-03T09:00:00.000Z',
      'group',
      'A1',
      'bench laptop',
      'kept a recording',
      'recordings/A/x.txt',
      'ab'.repeat(32),
      'handed over as run 3.txt',
    ]);
    expect(end).toBe('');
    expect(await faultsOf(folder)).toEqual([]);
  });

  test('is bound line to line by SHA-256, as its description says', async () => {
    const folder = await threeLines();
    const [, ...lines] = textOf(folder).trimEnd().split('\n');
    let before = '0'.repeat(64);
    for (const line of lines) {
      const [, bare = '', chain] = /^(.*)\t([^\t]*)$/.exec(line) ?? [];
      const sum = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(`${before}\n${bare}`));
      expect(Buffer.from(sum).toString('hex')).toBe(chain);
      before = chain ?? '';
    }
  });

  test.each([
    ['removed', (lines: string[]) => lines.filter((_, i) => i !== 2), 'a line was taken out'],
    ['changed', (lines: string[]) => lines.map((line) => line.replace('recording', 'sheet')), 'follow'],
    [
      'in another order',
      ([header = '', a = '', b = '', ...rest]: string[]) => [header, b, a, ...rest],
      'order',
    ],
    ['repeated', ([header = '', a = '', ...rest]: string[]) => [header, a, a, ...rest], 'repeated'],
    ['no line', ([header = '', ...rest]: string[]) => [header, 'something else', ...rest], 'no line'],
  ])('shows that a line was %s', async (_, change, said) => {
    const folder = await threeLines();
    writeFileSync(dayOf(folder), change(textOf(folder).split('\n')).join('\n'));
    expect((await faultsOf(folder)).join()).toContain(said);
  });

  test('shows that a day was taken out', async () => {
    const folder = newFolder();
    let now = morning;
    const trail = openTrail(folder, { now: () => now });
    for (let i = 0; i < 3; i++) {
      await trail.write(signed);
      now += 86_400_000;
    }
    rmSync(dayOf(folder, '2026-03-03'));
    expect(await faultsOf(folder)).toEqual([
      'trail/2026-03-04.tsv, line 2 does not follow from the line before: a line was taken out',
    ]);
  });

  test('goes on after a line that was torn, and says so', async () => {
    const folder = await threeLines();
    appendFileSync(dayOf(folder), '4\t2026-03-02T09:00:01.000Z\tgro');
    for await (const day of readTrail(folder)) expect(day.torn).toBe(true);
    await openTrail(folder, { now: () => morning }).write(kept);
    const lines = await readTrailDay(folder, '2026-03-02');
    expect(lines.map(({ number, done }) => [number, done]).slice(3)).toEqual([
      [4, 'took a torn line out of the trail'],
      [5, 'kept a recording'],
    ]);
    expect(lines[3]?.note).toContain('4\t2026-03-02T09:00:01.000Z\tgro');
    expect(await faultsOf(folder)).toEqual([]);
  });

  test('goes on wherever the last write was cut', async () => {
    const whole = readFileSync(dayOf(await threeLines()));
    for (let length = 0; length <= whole.length; length += 7) {
      const folder = newFolder();
      mkdirSync(join(folder, 'trail'));
      writeFileSync(dayOf(folder), whole.subarray(0, length));
      await openTrail(folder, { now: () => morning }).write(kept);
      expect(await faultsOf(folder)).toEqual([]);
    }
  });

  test('goes on from a line that somebody has written by hand', async () => {
    const folder = await threeLines();
    appendFileSync(dayOf(folder), 'a remark\n');
    const trail = openTrail(folder, { now: () => morning });
    await trail.write(kept);
    await trail.write(kept);
    expect(await faultsOf(folder)).toHaveLength(1);
  });

  test('keeps its order where the clock is put back', async () => {
    const folder = newFolder();
    await openTrail(folder, { now: () => morning }).write(signed);
    await openTrail(folder, { now: () => morning - 86_400_000 }).write(kept);
    expect(await trailDays(folder)).toEqual(['2026-03-02']);
    expect(await faultsOf(folder)).toEqual([]);
  });

  test('keeps every line of many who write at once, through two that are open', async () => {
    const folder = newFolder();
    const trails = [morning, morning].map((at) => openTrail(folder, { now: () => at }));
    await Promise.all(
      Array.from({ length: 80 }, (_, i) => trails[i % 2]?.write({ ...signed, note: `writer ${i}` })),
    );
    const lines = await readTrailDay(folder, '2026-03-02');
    expect(lines.map(({ number }) => number)).toEqual(Array.from({ length: 80 }, (_, i) => i + 1));
    expect(new Set(lines.map(({ note }) => note)).size).toBe(80);
    expect(await faultsOf(folder)).toEqual([]);
  });

  test('makes any text harmless, and gives it back', async () => {
    const folder = newFolder();
    const trail = openTrail(folder, { now: () => morning });
    const texts: string[] = ['=HYPERLINK("x")', '@SUM(1)', "'=1", 'a\tb\nc', '\u202egnp.exe', 'C:\\new', ''];
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: 'binary', maxLength: 60 }), async (text) => {
        texts.push(text);
        await trail.write({ ...kept, note: text });
      }),
      { numRuns: 60 },
    );
    for (const text of texts.slice(0, 7)) await trail.write({ ...kept, about: text, note: text });
    const lines = await readTrailDay(folder, '2026-03-02');
    expect(lines.map(({ note }) => note).toSorted()).toEqual(texts.toSorted());
    const written = textOf(folder);
    expect(written.split('\n').every((line) => line === '' || line.split('\t').length === 10)).toBe(true);
    // OWASP, 'CSV Injection': what begins with one of these is run by a spreadsheet.
    expect(written).not.toMatch(/(?:^|\t)[=+\-@]/m);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: there must be none
    expect(written).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
    expect(await faultsOf(folder)).toEqual([]);
  });

  test('is not written through a link', async () => {
    const folder = newFolder();
    const elsewhere = newFolder();
    symlinkSync(elsewhere, join(folder, 'trail'));
    await expect(openTrail(folder, { now: () => morning }).write(kept)).rejects.toThrow('link');
    const other = newFolder();
    mkdirSync(join(other, 'trail'));
    symlinkSync(join(elsewhere, 'x'), dayOf(other));
    await expect(openTrail(other, { now: () => morning }).write(kept)).rejects.toThrow('trail');
    expect(() => readFileSync(join(elsewhere, 'x'))).toThrow('ENOENT');
  });
});

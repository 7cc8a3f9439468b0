import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { appendDecision, decisionsPath, readDecisions } from '../../src/store/decisions.ts';
import { DecisionError, decisionHistory } from '../../src/store/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-decisions-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const recording = 'recordings/A/A1/brass-12_60_1.txt';
const bytes = 'a'.repeat(64);
const others = 'b'.repeat(64);
const circumstances = { who: 'Ines', why: 'the jet was touched', at: '2026-03-09T11:00:00Z', sha256: bytes };
const moved = {
  kind: 'marks',
  marks: { baseline: null, cooling: { from: 50, to: 90 }, heating: null },
} as const;

const folderFor = (name: string): string => {
  const folder = join(root, name);
  mkdirSync(folder);
  return folder;
};
const written = (folder: string, text: string): void => {
  const path = decisionsPath(folder, recording);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
};

describe('decisions about a recording', () => {
  test('are none where nobody decided', async () => {
    expect(await readDecisions(folderFor('none'), recording)).toEqual([]);
  });

  test('are kept with who, when, why and the bytes, and leave no other file behind', async () => {
    const folder = folderFor('kept');
    await appendDecision(folder, recording, moved, circumstances);
    expect(await readDecisions(folder, recording)).toEqual([{ id: 'd1', ...moved, ...circumstances }]);
    expect(readdirSync(dirname(decisionsPath(folder, recording)))).toEqual(['brass-12_60_1.txt.json']);
  });

  test('count until a later one takes their place, or they are taken back', async () => {
    const folder = folderFor('undo');
    await appendDecision(folder, recording, moved, circumstances);
    const later = { ...moved, marks: { ...moved.marks, heating: 2 } };
    const two = await appendDecision(folder, recording, later, circumstances);
    expect(decisionHistory(two, bytes).marks).toEqual(later.marks);
    expect(decisionHistory(two, bytes).decisions.map(({ applies }) => applies)).toEqual([false, true]);
    const undone = await appendDecision(folder, recording, { kind: 'undo', undoes: 'd2' }, circumstances);
    expect(decisionHistory(undone, bytes).marks).toEqual(moved.marks);
    const redone = await appendDecision(folder, recording, { kind: 'undo', undoes: 'd3' }, circumstances);
    expect(decisionHistory(redone, bytes).marks).toEqual(later.marks);
  });

  test('on how a file is to be read count beside the others: the last one, for these bytes, until taken back', async () => {
    const folder = folderFor('reading');
    const read = { rate: 10, unit: 'degC', timeColumn: 'none', segment: 2 } as const;
    await appendDecision(folder, recording, moved, circumstances);
    await appendDecision(folder, recording, { kind: 'reading', read }, { ...circumstances, why: '' });
    const later = { decimal: ',', delimiter: ';' } as const;
    const three = await appendDecision(folder, recording, { kind: 'reading', read: later }, circumstances);
    expect(await readDecisions(folder, recording)).toEqual(three);
    const history = decisionHistory(three, bytes);
    expect(history).toMatchObject({ marks: moved.marks, reading: later, rejected: null });
    expect(history.decisions.map((one) => one.read)).toEqual([null, read, later]);
    expect(history.decisions.map(({ applies }) => applies)).toEqual([true, false, true]);
    expect(decisionHistory(three, others).reading).toBeNull();
    const back = await appendDecision(folder, recording, { kind: 'undo', undoes: 'd3' }, circumstances);
    expect(decisionHistory(back, bytes).reading).toEqual(read);
  });

  test.each([
    { rate: 0 },
    { rate: Number.POSITIVE_INFINITY },
    { unit: 'furlong' },
    { channel: '' },
    { segment: 1.5 },
    { companions: ['x'] },
    { name: 'another file' },
    { decimal: undefined },
  ])('on how a file is to be read are refused with %o', async (read) => {
    const folder = folderFor(`odd-reading-${JSON.stringify(read)}-${Object.keys(read)[0]}`);
    const odd = { kind: 'reading', read } as unknown as Parameters<typeof appendDecision>[2];
    await expect(appendDecision(folder, recording, odd, circumstances)).rejects.toThrow(/read/);
    expect(readdirSync(folder)).not.toContain('decisions/recordings');
    expect(await readDecisions(folder, recording)).toEqual([]);
  });

  test('about other bytes do not count, and say so', async () => {
    const folder = folderFor('others');
    const kept = await appendDecision(folder, recording, { kind: 'reject' }, circumstances);
    expect(decisionHistory(kept, bytes).rejected).toEqual({ who: 'Ines', why: 'the jet was touched' });
    const { rejected, decisions } = decisionHistory(kept, others);
    expect(rejected).toBeNull();
    expect(decisions[0]).toMatchObject({ applies: false, note: expect.stringContaining('other bytes') });
  });

  test('of many writers at once are all kept', async () => {
    const folder = folderFor('many');
    const who = Array.from({ length: 20 }, (_, i) => `writer ${i}`);
    await Promise.all(
      who.map((one) => appendDecision(folder, recording, moved, { ...circumstances, who: one })),
    );
    const kept = await readDecisions(folder, recording);
    expect(kept.map((one) => one.who).toSorted()).toEqual(who.toSorted());
    expect(new Set(kept.map(({ id }) => id)).size).toBe(who.length);
  });

  test('wait for a writer in another process', async () => {
    const folder = folderFor('locked');
    written(folder, '');
    rmSync(decisionsPath(folder, recording));
    const lock = `${decisionsPath(folder, recording)}.lock`;
    writeFileSync(lock, 'another process');
    const appended = appendDecision(folder, recording, { kind: 'reject' }, circumstances);
    expect(await Promise.race([appended, new Promise((done) => setTimeout(done, 40, 'waits'))])).toBe(
      'waits',
    );
    rmSync(lock);
    expect(await appended).toHaveLength(1);
  });

  test.each([
    ['text that is no JSON', '{ "decisions": ['],
    ['a nest without end', '['.repeat(200_000)],
    ['other types', '{"about":"","recording":"","decisions":[{"id":7}]}'],
    [
      'a stretch that runs backwards',
      JSON.stringify({
        about: '',
        recording,
        decisions: [
          {
            id: 'd1',
            ...circumstances,
            kind: 'marks',
            marks: { baseline: { from: 9, to: 1 }, cooling: null, heating: null },
          },
        ],
      }),
    ],
    ['five megabytes', ' '.repeat(5 << 20)],
  ])('in a file with %s are refused with a mend, and not written over', async (name, text) => {
    const folder = folderFor(name);
    written(folder, text);
    await expect(readDecisions(folder, recording)).rejects.toThrow(DecisionError);
    await expect(appendDecision(folder, recording, moved, circumstances)).rejects.toThrow(
      /move it away|move the file away/,
    );
    expect(readFileSync(decisionsPath(folder, recording), 'utf8')).toBe(text);
  });

  test('are refused where they are not whole', async () => {
    const folder = folderFor('refused');
    const append = (decision: Parameters<typeof appendDecision>[2], more = {}) =>
      appendDecision(folder, recording, decision, { ...circumstances, ...more });
    await expect(append({ kind: 'undo', undoes: 'd1' })).rejects.toThrow('no decision d1');
    await expect(append({ kind: 'reject' }, { who: '  ' })).rejects.toThrow('who');
    await expect(append({ kind: 'reject' }, { at: 'yesterday' })).rejects.toThrow('at');
    await append({ kind: 'reject' });
    await append({ kind: 'undo', undoes: 'd1' });
    await expect(append({ kind: 'undo', undoes: 'd1' })).rejects.toThrow('taken back already');
  });

  test.each(['../out.txt', '/etc/passwd', 'a//b', 'a/./b', ''])('never leave the folder: %s', (path) => {
    expect(() => decisionsPath(root, path)).toThrow(RangeError);
  });
});

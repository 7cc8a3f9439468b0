import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { decision, recordingReading } from '../../src/server/contract/index.ts';
import { folderRecordings, type OpenRecordings } from '../../src/server/folder-recordings.ts';
import { appendDecision, readDecisions, readTrail } from '../../src/store/index.ts';
import { experimentText, testServer } from './app.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-many-'));
const path = 'recordings/g1/brass-12_60-1.txt';
const bytes = 'Time (s)\tT (degC)\n0\t80\n1\t70\n2\t61\n';
const sha256 = createHash('sha256').update(bytes).digest('hex');
let recordings: OpenRecordings;
let server: Awaited<ReturnType<typeof testServer>>;

beforeAll(async () => {
  mkdirSync(join(folder, 'recordings/g1'), { recursive: true });
  writeFileSync(join(folder, 'experiment.yaml'), experimentText);
  writeFileSync(join(folder, path), bytes);
  recordings = await folderRecordings(folder, () => undefined);
  server = await testServer({ folder, recordings });
});
afterAll(async () => {
  await recordings.close();
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

const decide = (who: string) => {
  return server.json('POST', `/api/recordings/${path}/decisions`, { kind: 'reject', who, why: 'a draught' });
};

describe('two people who decide about one recording', () => {
  it('at once are both kept, shown, and in the trail, whoever asks and however', async () => {
    const at = '2026-03-02T09:00:00Z';
    const circumstances = { who: 'by command', why: 'a draught', at, sha256 };
    // Each page knows an empty history; nobody's decision is refused or lost for that.
    const [first, second] = await Promise.all([
      decide('on one page'),
      decide('on another page'),
      appendDecision(folder, path, { kind: 'reject' }, circumstances),
    ]);
    expect([first.status, second.status]).toEqual([200, 200]);
    const all = ['by command', 'on another page', 'on one page'];
    expect((await readDecisions(folder, path)).map(({ who }) => who).toSorted()).toEqual(all);
    // Whoever looks next sees all of them, and that the last one counts.
    const looked = await server.json('POST', `/api/recordings/${path}/reading`, { options: null });
    const { decisions } = recordingReading.parse(await looked.json());
    expect(decisions.map(({ who }) => who).toSorted()).toEqual(all);
    expect(decisions.filter(({ applies }) => applies)).toHaveLength(1);
    expect(decisions.at(-1)?.applies).toBe(true);
    const notes: string[] = [];
    for await (const { lines } of readTrail(folder)) notes.push(...lines.map(({ note }) => note));
    expect(notes.join()).toContain('reject, signed on one page');
    expect(notes.join()).toContain('reject, signed on another page');
  });

  it('in turn, the second on the base of a history that is out of date, sees the first in the answer', async () => {
    const before = z.array(decision).parse(await (await decide('before')).json());
    const after = z.array(decision).parse(await (await decide('after')).json());
    expect(after.slice(0, before.length).map(({ id, who }) => [id, who])).toEqual(
      before.map(({ id, who }) => [id, who]),
    );
    expect(after.at(-1)).toMatchObject({ who: 'after', applies: true });
    expect(after.at(-2)).toMatchObject({ who: 'before', applies: false });
  });

  it('take one decision back once: the second is told that it is taken back already', async () => {
    const [last] = (await readDecisions(folder, path)).slice(-1);
    const undo = { kind: 'undo', undoes: last?.id, who: 'IK', why: '' };
    const send = () => server.json('POST', `/api/recordings/${path}/decisions`, undo);
    const answers = await Promise.all([send(), send()]);
    expect(answers.map(({ status }) => status).toSorted()).toEqual([200, 422]);
  });
});

import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { z } from 'zod';
import { experimentSchema, parseChecked } from '../../src/experiment/index.ts';
import {
  decision,
  detail,
  kept,
  problem,
  recordingList,
  recordingReading,
  upload,
} from '../../src/server/contract/index.ts';
import { folderRecordings, type OpenRecordings } from '../../src/server/folder-recordings.ts';
import { placeByName } from '../../src/server/place-by-name.ts';
import { openUploads } from '../../src/store/index.ts';
import { testServer } from './app.ts';

const demo = join('demo', 'thornwick');
const original = 'recordings/A/A1/bare-junction_120-1.txt';
const path = 'recordings/A/A1/bare-junction_60-1.txt';
/** The readings of a recording of the demo, in the second column, and nothing that says when they were taken. */
const lines = readFileSync(join(demo, original), 'utf8').split(/\r?\n/);
const bare = lines.flatMap((line) => line.split('\t')[1] ?? []).join('\n');
const who = { who: 'Ines', why: '' };

const folder = mkdtempSync(join(tmpdir(), 'emberline-reading-'));
let recordings: OpenRecordings;
let server: Awaited<ReturnType<typeof testServer>>;
beforeAll(async () => {
  cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  await mkdir(join(folder, dirname(path)), { recursive: true });
  await writeFile(join(folder, path), bare);
  recordings = await folderRecordings(folder, () => undefined);
  server = await testServer({ recordings, folder });
});
afterAll(async () => {
  await recordings.close();
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

async function answered<S extends z.ZodType>(schema: S, answer: Response | Promise<Response>, status = 200) {
  const response = await answer;
  const body: unknown = await response.json();
  expect(response.status, `${JSON.stringify(body)} ${server.logged.join()}`).toBe(status);
  return schema.parse(body);
}
const analysis = (of: string) => server.app.request(`/api/recordings/${of}/analysis`);
const reading = (options: unknown) =>
  answered(recordingReading, server.json('POST', `/api/recordings/${path}/reading`, { options }));
const decide = (request: unknown) => server.json('POST', `/api/recordings/${path}/decisions`, request);

it('says once what is wrong with a recording that cannot be read, and once what to do', async () => {
  const refused = await answered(problem, analysis(path), 422);
  expect(refused.detail).not.toContain(refused.mend);
  expect(refused.detail).not.toContain('--');
  expect(refused.mend).toMatch(/rate/);
});

it('shows how the file is read, and reads it as a person says, keeping nothing', async () => {
  const found = await reading(null);
  expect(found).toMatchObject({ options: {}, understood: null, decisions: [] });
  expect(found.trouble?.mend).toMatch(/rate/);
  expect(found.rows[1]?.cells).toHaveLength(1);
  const tried = await reading({ rate: 100 });
  expect(tried).toMatchObject({ options: { rate: 100 }, understood: { rate: 100 }, trouble: null });
  expect((await reading(null)).understood).toBeNull();
});

it('keeps how a file is read with who said it, shows it so from then on, and takes it back', async () => {
  const refused = await answered(problem, decide({ kind: 'reading', read: { channel: 7 }, ...who }), 422);
  expect(refused.type).toContain('unreadable');
  const decided = await answered(z.array(decision), decide({ kind: 'reading', read: { rate: 100 }, ...who }));
  expect(decided).toMatchObject([{ kind: 'reading', read: { rate: 100 }, who: 'Ines', applies: true }]);
  const shown = await answered(detail, analysis(path));
  expect(shown).toMatchObject({ state: 'analyzed', message: null, read: { rate: 100 } });
  expect(shown.timeConstant?.value).toBeGreaterThan(0);
  expect(await reading(null)).toMatchObject({ options: { rate: 100 }, decisions: [{ id: 'd1' }] });
  expect(await readFile(join(folder, path), 'utf8')).toBe(bare);
  await answered(z.array(decision), decide({ kind: 'undo', undoes: 'd1', ...who }));
  await answered(problem, analysis(path), 422);
});

it.each([
  { kind: 'reading', read: { rate: 0 }, ...who },
  { kind: 'reading', read: { unit: 'furlong' }, ...who },
  { kind: 'reading', read: { rate: 100 }, who: ' ', why: '' },
])('refuses %o', async (request) => {
  expect((await decide(request)).status).toBe(400);
});

it('keeps the corrections of a file that is taken in, so that it can be read afterwards', async () => {
  const sent = await server.app.request('/api/uploads?name=A2 bare-junction 120 run 3.txt', {
    method: 'POST',
    body: `${bare}\n`,
  });
  const { id, understood, place } = await answered(upload, sent);
  expect(understood).toBeNull();
  expect(place).toMatchObject({ section: 'A', group: 'A2', body: 'bare-junction', flow: '120', repeat: 3 });
  const { section, group, body, flow } = { section: 'A', group: 'A2', body: 'bare-junction', flow: '120' };
  const request = {
    place: { section, group, body, flow, repeat: 3 },
    reading: { read: { rate: 100 }, ...who },
  };
  const there = await answered(kept, server.json('POST', `/api/uploads/${id}/keep`, request));
  const shown = await answered(detail, analysis(there.path));
  expect(shown).toMatchObject({
    read: { rate: 100 },
    decisions: [{ kind: 'reading', who: 'Ines', applies: true }],
  });
  const list = await answered(recordingList, server.app.request('/api/recordings'));
  expect(list.recordings.find((one) => one.path === there.path)).toMatchObject({
    state: 'analyzed',
    message: null,
    place: { group: 'A2', repeat: 3 },
  });
  expect(await openUploads(folder).find(id)).toBeNull();
});

it.each([
  ['brass-12 60 run2.txt', 2],
  ['brass-12_60-4.csv', 4],
  ['A1 aluminium-20 120 (3).txt.gz', 3],
  ['run 11.dat', 11],
  // The number belongs to a code, a date, a decimal number, or is none.
  ['brass-12.txt', null],
  ['A1.txt', null],
  ['brass-20 60.txt', null],
  ['brass-12 2026-10-05.txt', null],
  ['brass-12 14.27.txt', null],
  ['brass-12 0.txt', null],
  ['brass-12 run100.txt', null],
])('takes the repeat from the name %j', (name, repeat) => {
  const parsed = parseChecked(readFileSync(join(demo, 'experiment.yaml'), 'utf8'), experimentSchema);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed));
  expect(placeByName(parsed.value, name)?.repeat ?? null).toBe(repeat);
});

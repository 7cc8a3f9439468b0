import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { groupSubmission, problem, submissionsView, takenSheet } from '../../src/server/contract/index.ts';
import { folderRecordings, type OpenRecordings } from '../../src/server/folder-recordings.ts';
import { experimentFolder } from '../marking/folder.ts';
import { testServer } from './app.ts';

let folder: string;
let recordings: OpenRecordings;
let server: Awaited<ReturnType<typeof testServer>>;

beforeAll(async () => {
  folder = experimentFolder();
  recordings = await folderRecordings(folder, () => undefined);
  server = await testServer({ folder, submissions: recordings.submissions });
}, 60_000);
afterAll(async () => {
  await recordings.close();
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

const path = 'recordings/g1/brass-12_fast-1.csv';
const enter = (group: string, values: Record<string, string>, note = '') =>
  server.json('POST', `/api/submissions/${group}`, { rows: [{ recording: path, note, values }] });

describe('what groups hand in, over the wire', () => {
  test('is nothing at first, and says what is asked for', async () => {
    const view = submissionsView.parse(await (await server.app.request('/api/submissions')).json());
    expect(view.groups).toEqual([]);
    expect(view.waiting).toEqual(['g1', 'g2']);
    expect(view.asked[0]).toEqual({ quantity: 'point', name: 'time constant at 36.8 %', unit: 's' });
    const answer = await server.app.request('/api/submissions/g1');
    expect(answer.status).toBe(404);
    expect(problem.parse(await answer.json()).mend).toContain('Take a sheet');
  });

  test('is kept when it is typed in, held against the recording, and explained', async () => {
    // A logarithm to base ten makes a time constant ln 10 times as large.
    const slipped = {
      point: '40.0',
      origin: (40 * Math.LN10).toFixed(1),
      intercept: (40 * Math.LN10).toFixed(1),
    };
    const view = groupSubmission.parse(await (await enter('g1', slipped, '=1+1')).json());
    const states = Object.fromEntries(
      view.rows[0]?.values.map(({ quantity, state }) => [quantity, state]) ?? [],
    );
    expect(states).toEqual({ point: 'within', origin: 'outside', intercept: 'follows' });
    expect(view.rows[0]?.sentences.join(' ')).toContain('base ten');
    expect(view.rows[0]?.note).toBe('=1+1');
    expect(view.feedback).toContain('**Look again**');
    expect(view.feedback).not.toContain('=1+1');
    const kept = readFileSync(join(folder, view.file), 'utf8');
    expect(kept).toContain("'=1+1");
    expect(view.missing.flatMap(({ quantities }) => quantities)).toContain('Biot number');
  });

  test('is replaced by a later sheet; the one before stays', async () => {
    const view = groupSubmission.parse(await (await enter('g1', { origin: '0.667 min' })).json());
    expect(view.rows[0]?.values).toMatchObject([
      { quantity: 'origin', written: '0.667 min', state: 'within' },
    ]);
    expect(view.earlier).toHaveLength(1);
    expect(readdirSync(join(folder, 'submissions/g1'))).toHaveLength(2);
  });

  test('is taken as a file, byte for byte, and borrowed data are told', async () => {
    const text = `recording;tau origin / s\n${path};40,0\n`;
    const answer = await server.app.request('/api/sheets?name=..%2F..%2Fmine.csv&group=g2', {
      method: 'POST',
      body: text,
    });
    const taken = takenSheet.parse(await answer.json());
    expect(taken.path).toMatch(/^submissions\/g2\/[\dTZ-]+-mine\.csv$/);
    expect(readFileSync(join(folder, taken.path), 'utf8')).toBe(text);
    const view = groupSubmission.parse(await (await server.app.request('/api/submissions/g2')).json());
    expect(view.rows[0]?.values).toMatchObject([{ state: 'within', written: '40,0 s' }]);
    expect(view.rows[0]?.roster).toEqual(['The recording is one of group g1: borrowed data.']);
  });

  test('says which text of the feedback has a fault, and shows the rest', async () => {
    mkdirSync(join(folder, 'feedback'));
    writeFileSync(join(folder, 'feedback/outside.md'), 'x\n{grade}\n');
    const view = groupSubmission.parse(await (await server.app.request('/api/submissions/g1')).json());
    expect(view.feedback).toBeNull();
    expect(view.feedbackTrouble).toContain('feedback/outside.md, line 2: there is no {grade} here');
    expect(view.rows).toHaveLength(1);
    rmSync(join(folder, 'feedback'), { recursive: true });
  });

  test.each([
    ['/api/sheets?name=virus.exe', 'x', 415],
    ['/api/sheets?name=a.csv&group=..%2F..', 'x', 422],
    ['/api/sheets?name=a.csv', '', 400],
    ['/api/sheets?name=a.csv', 'x'.repeat(5_000_000), 413],
  ])('refuses what is no sheet: %s', async (address, body, status) => {
    const before = readdirSync(join(folder, 'submissions')).length;
    const answer = await server.app.request(address, { method: 'POST', body });
    expect(answer.status).toBe(status);
    expect(readdirSync(join(folder, 'submissions'))).toHaveLength(before);
  });

  test('takes nothing from the page of another site', async () => {
    const headers = { origin: 'http://elsewhere.example' };
    const answer = await server.app.request('/api/sheets?name=a.csv', { method: 'POST', body: 'x', headers });
    expect(answer.status).toBe(403);
  });
});

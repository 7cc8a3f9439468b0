import { cpSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type FolderAnalysis, openAnalysis } from '../../src/analysis/index.ts';
import { conditionsOf, predictCondition } from '../../src/experiment/index.ts';
import { callerAs } from '../../src/server/access/caller.ts';
import { mineFeedback, mineHandedIn, mineNow, mineView, problem } from '../../src/server/contract/index.ts';
import { folderMine } from '../../src/server/mine.ts';
import { folderSubmissions } from '../../src/server/submissions.ts';
import { testServer } from './app.ts';
import { contentsOf, timesLike } from './leaks.ts';

let folder: string;
let analysis: FolderAnalysis;
let server: Awaited<ReturnType<typeof testServer>>;
let group = 'A1';
let released = false;
const groups = ['A1', 'A2', 'A3', 'A4', 'B1', 'B2', 'B3', 'B4', 'C1', 'C2', 'C3', 'C4'];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-mine-'));
  cpSync('demo/thornwick', folder, { recursive: true });
  analysis = await openAnalysis(folder);
  await analysis.settled();
  const submissions = folderSubmissions(analysis, () => Date.UTC(2100, 0, 1));
  server = await testServer({
    folder,
    submissions,
    mine: folderMine(analysis, submissions, async () => released),
    identity: { callerOf: async () => callerAs('group', group) },
  });
}, 180_000);
afterAll(async () => {
  await server.remove();
  await analysis.close();
  rmSync(folder, { recursive: true, force: true });
});

async function get(path: string): Promise<unknown> {
  const answer = await server.app.request(path);
  expect(answer.status, path).toBe(200);
  return answer.json();
}

const before = ['/api/mine', '/api/mine/now', '/api/mine/submission'];

/** Numbers that people at a bench are told, by their keys. */
const operational = new Set([
  'at',
  'baseline',
  'target',
  'limit',
  'endFraction',
  'repeats',
  'repeat',
  'length',
  'elapsed',
  'remaining',
  'done',
  'values',
  'line',
  'time',
  'temperature',
  'errorFraction',
  'heatOff',
  'interval',
  'quiet',
]);

describe('what a group is told before the release', () => {
  test('holds no time constant of any recording of the demo, measured or predicted', async () => {
    const { experiment } = analysis;
    if (experiment === null) throw new Error('the demo has no experiment');
    const { recordings } = analysis.list();
    expect(recordings.length).toBe(60);
    const predicted = conditionsOf(experiment).measured.flatMap((one) => {
      const found = predictCondition(experiment, one, 0);
      return found.ok ? [found.prediction.timeConstant.value] : [];
    });
    for (group of groups) {
      const own = recordings.filter(({ place }) => place.group === group);
      const values = [...own.flatMap(({ timeConstant }) => timeConstant?.value ?? []), ...predicted];
      for (const path of before) {
        const { texts, numbers } = contentsOf(await get(path));
        expect(numbers.filter(([key]) => !operational.has(key))).toEqual([]);
        // What the group wrote itself is its own.
        const told = path.endsWith('submission') ? [] : texts;
        for (const value of values) {
          for (const text of told) expect(timesLike(text, value), `${group}: ${text}`).toEqual([]);
        }
      }
    }
  });

  test('names no other group, and none of its files', async () => {
    for (group of groups) {
      const others = groups.filter((one) => one !== group);
      for (const path of before) {
        const text = JSON.stringify(await get(path));
        for (const other of others)
          expect(text, `${group} ${path}`).not.toMatch(new RegExp(`\\b${other}\\b`));
      }
    }
  });

  test('says of each recording whether it is usable, with what to do where it is not', async () => {
    group = 'C1';
    const view = mineView.parse(await get('/api/mine'));
    const summaries = analysis.list().recordings.filter(({ place }) => place.group === 'C1');
    expect(view.recordings.map(({ path }) => path)).toEqual(summaries.map(({ path }) => path));
    for (const { state, words, remarks } of view.recordings) {
      expect(words).toMatch(/^[A-Z].*\.$/);
      if (state === 'repeat') expect(remarks.some(({ severity }) => severity === 'repeat')).toBe(true);
      for (const { action } of remarks) expect(action).toMatch(/\.$/);
    }
    const usable = view.recordings.filter(({ state }) => state.startsWith('usable'));
    expect(view.conditions.reduce((sum, { done }) => sum + done, 0)).toBe(usable.length);
  });

  test('has all that were found to be repeated among what is to be repeated', async () => {
    const told: string[] = [];
    for (group of groups) {
      const view = mineView.parse(await get('/api/mine'));
      told.push(...view.recordings.filter(({ state }) => state === 'repeat').map(({ path }) => path));
    }
    const found = analysis.list().recordings.filter(({ verdict }) => verdict === 'repeat');
    expect(found.length).toBeGreaterThan(0);
    expect(told.toSorted()).toEqual(found.map(({ path }) => path).toSorted());
  });

  test('is nothing of the feedback', async () => {
    group = 'A1';
    const answer = await server.app.request('/api/mine/feedback');
    expect(answer.status).toBe(403);
    expect(problem.parse(await answer.json()).detail).toBe('The results have not been released yet.');
  });

  test('is a sheet for the bench without expected time constants', async () => {
    group = 'A1';
    const answer = await server.app.request('/api/mine/bench-sheet');
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-type')).toBe('application/pdf');
  });

  test('is the bench of the group alone', async () => {
    group = 'B2';
    const now = mineNow.parse(await get('/api/mine/now'));
    expect(now).not.toHaveProperty('timeConstant');
    expect(JSON.stringify(now)).not.toContain('timeConstant');
  });
});

describe('values that a group hands in', () => {
  const own = 'recordings/A/A1/brass-12_120-1.txt';
  const foreign = 'recordings/A/A2/brass-12_120-1.txt';
  const enter = (recording: string) =>
    server.json('POST', '/api/mine/submission', {
      rows: [{ recording, note: '', values: { origin: '41.2' } }],
    });

  test('are kept as its own, without a word of what they are held against', async () => {
    group = 'A1';
    const answer = await enter(own);
    expect(answer.status).toBe(200);
    const text = await answer.text();
    const { submission } = mineHandedIn.parse(JSON.parse(text));
    expect(submission?.rows).toEqual([
      { recording: own, about: own, note: '', values: [{ quantity: 'origin', written: '41.2 s' }] },
    ]);
    expect(text).not.toMatch(/expected|within|outside/);
    expect(mineView.parse(await get('/api/mine')).handedIn?.values).toBe(1);
  });

  test('are about its own recordings; whether there is another one is not told', async () => {
    group = 'A1';
    const refusals = await Promise.all(
      [foreign, 'recordings/A/A9/none.txt'].map(async (path) => {
        const answer = await enter(path);
        expect(answer.status).toBe(422);
        return answer.text();
      }),
    );
    expect(refusals[0]).toBe(refusals[1]);
  });

  test('are not taken for another group by a sheet', async () => {
    group = 'A1';
    const sent = (body: string) =>
      server.app.request('/api/mine/sheets?name=mine.csv', { method: 'POST', body });
    const kept = () => readdirSync(join(folder, 'submissions'), { recursive: true }).toSorted();
    const others = kept();
    const answer = await sent(`group,recording,tau origin / s\nA2,${foreign},40\n`);
    expect(answer.status).toBe(422);
    expect(problem.parse(await answer.json()).detail).toContain('Line 2');
    expect(kept()).toEqual(others);
    const taken = await sent(`recording,tau origin / s\n${own},40.7\n${foreign},39\n${foreign}x,39\n`);
    const { submission } = mineHandedIn.parse(await taken.json());
    expect(submission?.rows).toHaveLength(1);
    const [there, notThere] = submission?.faults ?? [];
    expect(there?.message.replace(foreign, '')).toBe(notThere?.message.replace(`${foreign}x`, ''));
  });
});

describe('after the release', () => {
  test('the group reads its time constants and its feedback', async () => {
    group = 'A1';
    released = true;
    const view = mineView.parse(await get('/api/mine'));
    expect(view.released).toBe(true);
    const heard = mineFeedback.parse(await get('/api/mine/feedback'));
    expect(heard.text).toContain('group A1');
    const usable = analysis
      .list()
      .recordings.filter(({ place, verdict }) => place.group === 'A1' && verdict !== 'repeat');
    expect(heard.recordings.filter(({ timeConstant }) => timeConstant !== null)).toHaveLength(usable.length);
    for (const { timeConstant } of heard.recordings) {
      if (timeConstant !== null) expect(timeConstant.text).toMatch(/^\([\d.]+ ± [\d.]+\) s$/);
    }
    released = false;
  });
});

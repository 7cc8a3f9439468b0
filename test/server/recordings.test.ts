import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  comparisonView,
  decision,
  detail,
  problem,
  readings,
  recordingList,
  steps,
} from '../../src/server/contract/index.ts';
import { folderRecordings, type OpenRecordings } from '../../src/server/folder-recordings.ts';
import { readPracticeKey } from '../../src/store/index.ts';
import { testServer } from './app.ts';

const demo = join('demo', 'thornwick');
const bare = (group: string) => `recordings/A/${group}/bare-junction_120-1.txt`;
const [first, second, copy] = [bare('A1'), bare('A2'), bare('A3')];
const noMarks = { baseline: null, cooling: null, heating: null };

const folder = mkdtempSync(join(tmpdir(), 'emberline-recordings-'));
let recordings: OpenRecordings;
let server: Awaited<ReturnType<typeof testServer>>;

/** Two simulated recordings, and a third group that handed in the first one again. */
beforeAll(async () => {
  cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  for (const [from, to] of [
    [first, first],
    [second, second],
    [first, copy],
  ] as const) {
    cpSync(join(demo, from), join(folder, to));
  }
  recordings = await folderRecordings(folder, () => undefined);
  server = await testServer({ recordings });
  // Who asks for everything about a recording waits until it is analyzed.
  for (const path of [first, second, copy]) await recordings.detail(path);
});
afterAll(async () => {
  await recordings.close();
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

/** The answer by its schema, which it must fit without more. */
async function got<S extends z.ZodType>(
  schema: S,
  answer: Response | Promise<Response>,
): Promise<z.output<S>> {
  const response = await answer;
  const body: unknown = await response.json();
  expect(response.status, `${JSON.stringify(body)} ${server.logged.join()}`).toBe(200);
  return schema.parse(body);
}

const get = (path: string) => server.app.request(path);
const post = (path: string, body: unknown) => server.json('POST', path, body);
const compared = (query = '') => got(comparisonView, get(`/api/compare${query}`));

async function refused(answer: Response | Promise<Response>) {
  const response = await answer;
  return problem.parse(await response.json());
}

describe('recordings of a folder', () => {
  it('are listed as they are analyzed, a copy with what it is a copy of', async () => {
    const list = await got(recordingList, get('/api/recordings'));
    expect(list.recordings.map(({ path, state, copyOf }) => ({ path, state, copyOf }))).toEqual([
      { path: first, state: 'analyzed', copyOf: null },
      { path: second, state: 'analyzed', copyOf: null },
      { path: copy, state: 'analyzed', copyOf: first },
    ]);
  });

  it('are told of in full, near the time constant that they were simulated with', async () => {
    const shown = await got(detail, get(`/api/recordings/${first}/analysis`));
    const key = await readPracticeKey(join('demo', 'thornwick-answers', 'key.json'), null);
    const truth = key.recordings.find(({ path }) => path === first)?.truth.timeConstant ?? Number.NaN;
    const { value = Number.NaN, standardUncertainty = Number.NaN } = shown.timeConstant ?? {};
    // Four standard uncertainties: what an honest one is passed by once in 15 000.
    expect(Math.abs(value - truth)).toBeLessThan(4 * standardUncertainty);
    expect(shown.used).toEqual(shown.found);
    expect(shown.decisions).toEqual([]);
  });

  it('are shown by other marks, and nothing is kept of that', async () => {
    const before = await got(detail, get(`/api/recordings/${first}/analysis`));
    const { from = 0, to = 0 } = before.used.cooling ?? {};
    const cooling = { from: from + 0.2 * (to - from), to };
    const moved = await got(
      detail,
      post(`/api/recordings/${first}/preview`, { marks: { ...noMarks, cooling } }),
    );
    expect(moved.used.cooling).toEqual(cooling);
    expect(moved.timeConstant?.value).not.toBe(before.timeConstant?.value);
    expect(await got(detail, get(`/api/recordings/${first}/analysis`))).toEqual(before);
  });

  it('give their readings and their steps', async () => {
    const stretch = await got(readings, get(`/api/recordings/${first}/readings?from=1&to=3&points=100`));
    expect(stretch.time.length).toBeGreaterThan(2);
    expect(Math.min(...stretch.time)).toBeGreaterThanOrEqual(1);
    expect(Math.max(...stretch.time)).toBeLessThanOrEqual(3);
    const worked = await got(steps, get(`/api/recordings/${first}/steps`));
    expect(worked.path).toBe(first);
    expect(worked.steps.length).toBeGreaterThan(3);
  });
});

describe('a comparison', () => {
  const groupsIn = ({ conditions }: z.infer<typeof comparisonView>) =>
    conditions.flatMap(({ measured }) => measured.runs.map(({ group }) => group));

  it('rests on all recordings that count, and says what coefficient they stand for', async () => {
    const all = await compared();
    expect(groupsIn(all)).toEqual(['A1', 'A2']);
    expect(all.left.map(({ path }) => path)).toEqual([copy]);
    const { total, convection, nusselt } = all.conditions[0]?.heatTransfer ?? {};
    for (const one of [total, convection, nusselt]) {
      const { value = Number.NaN, interval: [low, high] = [Number.NaN, Number.NaN] } = one ?? {};
      expect(value).toBeGreaterThan(low);
      expect(value).toBeLessThan(high);
    }
    // All heat that leaves is more than what the air takes.
    expect(total?.value).toBeGreaterThan(convection?.value ?? Number.NaN);
  });

  it('rests on the recordings of the groups that are named, and on no others', async () => {
    const one = await compared('?group=A2');
    expect(groupsIn(one)).toEqual(['A2']);
    expect(one.conditions[0]?.measured.value).toBeCloseTo(one.conditions[0]?.measured.runs[0]?.value ?? 0, 9);
    expect(one.left).toEqual([]);
    expect(await compared('?group=A1&group=A2&group=A3')).toEqual(await compared());
  });

  it('counts a copy for nobody, also where its original is left aside', async () => {
    const { conditions, left } = await compared('?group=A3');
    expect(conditions).toEqual([]);
    expect(left).toEqual([{ path: copy, why: expect.stringContaining(first) }]);
  });

  it('is empty for a group without recordings, and refused for one that nobody knows', async () => {
    expect(await compared('?group=B1')).toEqual({ conditions: [], trends: [], noted: [], left: [] });
    const answer = await refused(get('/api/compare?group=A1&group=Z9'));
    expect(answer).toMatchObject({ status: 400, detail: expect.stringContaining('"Z9"') });
    expect(answer.mend).toContain('A1');
    expect((await refused(get(`/api/compare?group=${'x'.repeat(101)}`))).status).toBe(400);
  });
});

describe('a decision', () => {
  it('counts at once, in the list and in the comparison, until it is taken back', async () => {
    const raw = readFileSync(join(folder, second));
    const person = { who: 'Ines', why: 'the jet was touched' };
    const url = `/api/recordings/${second}/decisions`;
    const kept = await got(z.array(decision), post(url, { kind: 'reject', ...person }));
    expect(kept).toMatchObject([{ kind: 'reject', ...person, applies: true }]);
    const without = await compared('?group=A2');
    expect(without.conditions).toEqual([]);
    expect(without.left).toEqual([{ path: second, why: 'Ines took it out: the jet was touched' }]);
    const [{ id } = { id: '' }] = kept;
    const back = await got(z.array(decision), post(url, { kind: 'undo', undoes: id, ...person }));
    expect(back.map(({ applies }) => applies)).toEqual([false, expect.any(Boolean)]);
    expect((await compared('?group=A2')).conditions).toHaveLength(1);
    expect(readFileSync(join(folder, second))).toEqual(raw);
  });
});

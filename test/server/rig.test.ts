import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { problem, rigCorrelationView, rigView } from '../../src/server/contract/index.ts';
import { rigChecksPath } from '../../src/store/index.ts';
import { trialPieces } from '../floor/bench-floor.ts';
import { experimentText, testServer } from './app.ts';

const withBenches = experimentText.replace(
  'groups:',
  'sensor: { thermocouple: T, gain: 200, gain-uncertainty: 0.1 %, zero: 1.3 mV }\nbenches: [left, right]\ngroups:',
);

type Server = Awaited<ReturnType<typeof testServer>>;
let refreshed = 0;
let server: Server;

beforeAll(async () => {
  server = await testServer({
    text: withBenches,
    recordings: {
      refresh: async () => {
        refreshed += 1;
      },
    },
  });
});
afterAll(() => server.remove());

const gain = { kind: 'gain', value: '200.3', bench: 'left', subject: null, who: 'IK', note: '' };

describe('the rigs over the wire', () => {
  test('are not checked at first, and say what could be', async () => {
    const answer = await server.app.request('/api/rig');
    const view = rigView.parse(await answer.json());
    expect(view).toMatchObject({
      benches: ['left', 'right'],
      bodies: ['brass-12', 'brass-20'],
      flows: ['60', '120'],
    });
    expect(view.checks).toEqual([]);
    expect(view.standings.every(({ state }) => state === 'missing')).toBe(true);
  });

  test('take a check, hold it against the file, and let it be taken back', async () => {
    const before = refreshed;
    const added = rigView.parse(await (await server.json('POST', '/api/rig/checks', gain)).json());
    expect(added.checks).toMatchObject([
      { id: 'c1', bench: 'left', value: 200.3, written: '200.3', who: 'IK' },
    ]);
    expect(Date.now() - Date.parse(added.checks[0]?.at ?? '')).toBeLessThan(60_000);
    const of = (view: typeof added, bench: string) =>
      view.standings.find((one) => one.kind === 'gain' && one.bench === bench)?.state;
    expect(of(added, 'left')).toBe('in-order');
    expect(of(added, 'right')).toBe('missing');
    const bad = { ...gain, value: '190' };
    const second = rigView.parse(await (await server.json('POST', '/api/rig/checks', bad)).json());
    expect(of(second, 'left')).toBe('outside');
    const back = { id: 'c2', who: 'IK', why: 'read from the wrong scale' };
    const third = rigView.parse(await (await server.json('POST', '/api/rig/withdrawals', back)).json());
    expect(of(third, 'left')).toBe('in-order');
    expect(third.withdrawn).toMatchObject([back]);
    expect(refreshed).toBe(before + 3);
    const kept: unknown = JSON.parse(readFileSync(rigChecksPath(server.folder), 'utf8'));
    expect(kept).toMatchObject({ checks: [{ id: 'c1' }, { id: 'c2' }], withdrawn: [{ id: 'c2' }] });
  });

  test.each([
    [{ value: '200.3 mV' }, 'unit'],
    [{ bench: 'middle' }, 'no bench "middle"'],
    [{ subject: 'brass-12' }, 'about the bench'],
    [{ at: '2999-01-01T00:00:00Z' }, 'future'],
  ])('refuse what does not fit, with its mend: %j', async (changed, words) => {
    const answer = await server.json('POST', '/api/rig/checks', { ...gain, ...changed });
    expect(answer.status).toBe(422);
    const { detail, mend } = problem.parse(await answer.json());
    expect(`${detail} ${mend}`).toContain(words);
  });

  test('keep a reference run with what it showed, and take it back', async () => {
    const path = 'reference/monday.txt';
    mkdirSync(join(server.folder, 'reference'), { recursive: true });
    writeFileSync(join(server.folder, path), trialPieces({ seed: 4 }).join(''));
    const offered = rigView.parse(await (await server.app.request('/api/rig')).json());
    expect(offered.candidates).toEqual([path]);
    const run = { recording: path, bench: 'left', body: 'brass-12', flow: '120', who: 'IK', note: '' };
    const kept = rigView.parse(await (await server.json('POST', '/api/rig/references', run)).json());
    expect(kept.references).toMatchObject([{ id: 'r1', bench: 'left', body: 'brass-12', term: kept.term }]);
    expect(kept.references[0]?.timeConstant).toBeCloseTo(20, 0);
    expect(kept.candidates).toEqual([]);
    expect(kept.charts.find(({ kind }) => kind === 'reference')?.points).toHaveLength(1);
    const again = await server.json('POST', '/api/rig/references', run);
    expect(problem.parse(await again.json()).detail).toContain('is kept already');
    for (const recording of ['../secret.txt', '/etc/passwd', 'reference/none.txt']) {
      const refused = await server.json('POST', '/api/rig/references', { ...run, recording });
      expect(refused.status).toBe(422);
    }
    const back = { id: 'r1', who: 'IK', why: 'other bench' };
    const after = rigView.parse(await (await server.json('POST', '/api/rig/withdrawals', back)).json());
    expect(after.referencesWithdrawn).toMatchObject([back]);
    expect(after.charts.some(({ kind }) => kind === 'reference')).toBe(false);
  });

  test('say why there is no correlation yet, and what to measure', async () => {
    const answer = await server.app.request('/api/rig/correlation');
    const view = rigCorrelationView.parse(await answer.json());
    expect(view).toMatchObject({ ok: false, conditions: [] });
    expect(view.sentences.join(' ')).toContain('at least 4 are needed');
  });

  test.each([
    { ...gain, kind: 'colour' },
    { ...gain, who: ' ' },
    { ...gain, note: 'x'.repeat(501) },
    { ...gain, at: 'yesterday' },
    {},
    '[',
  ])('do not understand what is no check', async (body) => {
    expect((await server.json('POST', '/api/rig/checks', body)).status).toBe(400);
  });

  test('do not take back what is not there', async () => {
    const answer = await server.json('POST', '/api/rig/withdrawals', { id: 'c99', who: 'IK', why: 'none' });
    expect(answer.status).toBe(422);
  });

  test('take no check from another page', async () => {
    const headers = { origin: 'http://elsewhere.example' };
    expect((await server.json('POST', '/api/rig/checks', gain, headers)).status).toBe(403);
  });

  test('say so where the file of the checks cannot be read, without its place on the disk', async () => {
    const path = rigChecksPath(server.folder);
    mkdirSync(dirname(path), { recursive: true });
    const before = readFileSync(path);
    writeFileSync(path, '{ "checks": [] ');
    const answer = await server.app.request('/api/rig');
    expect(answer.status).toBe(507);
    const { detail } = problem.parse(await answer.json());
    expect(detail).toMatch(/^rig\/checks\.json: is not JSON/);
    writeFileSync(path, before);
  });

  test('wait for an experiment file without faults', async () => {
    const path = join(server.folder, 'experiment.yaml');
    writeFileSync(path, 'bodies: 3\n');
    expect((await server.app.request('/api/rig')).status).toBe(422);
    writeFileSync(path, withBenches);
  });
});

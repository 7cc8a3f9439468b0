import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { callerAs } from '../../src/server/access/caller.ts';
import { kept, releasesView, trailView, upload } from '../../src/server/contract/index.ts';
import { textHash } from '../../src/store/index.ts';
import { experimentText, testServer } from './app.ts';

let server: Awaited<ReturnType<typeof testServer>>;
beforeEach(async () => {
  server = await testServer({ text: `${experimentText}sections: [A, B]\n`, identity: someone });
});
afterEach(() => server.remove());

let caller = callerAs('instructor');
beforeEach(() => {
  caller = callerAs('instructor');
});
const someone = { callerOf: async () => caller };

const get = async (path: string) => server.app.request(path, { headers: { host: 'localhost' } });
const trail = async (query = '') => trailView.parse(await (await get(`/api/trail${query}`)).json());

describe('the trail over the wire', () => {
  it('is empty where nobody did anything', async () => {
    expect(await trail()).toEqual({ days: [], day: null, entries: [] });
  });

  it('says who kept which recording, with its hash', async () => {
    caller = callerAs('group', 'g1');
    const body = 'Time (s);Sphere (degC)\n0;80\n1;70\n';
    const sent = await server.app.request('/api/uploads?name=run%203.csv', {
      method: 'POST',
      body,
      headers: { host: 'localhost' },
    });
    const { id } = upload.parse(await sent.json());
    const place = { group: 'g1', body: 'brass-12', flow: '60', repeat: 1 };
    const answer = await server.json('POST', `/api/uploads/${id}/keep`, { place }, { host: 'localhost' });
    const { path } = kept.parse(await answer.json());
    caller = callerAs('instructor');
    const { days, day, entries } = await trail();
    expect(days).toEqual([day]);
    expect(entries).toMatchObject([
      {
        number: 1,
        role: 'group',
        group: 'g1',
        label: 'group g1',
        done: 'kept a recording',
        about: path,
        sha256: textHash(body),
        note: 'handed over as run 3.csv',
      },
    ]);
    expect((await trail(`?day=${day}`)).entries).toEqual(entries);
  });

  it('says who saved the experiment file, and who checked a rig', async () => {
    const before = `${experimentText}sections: [A, B]\n`;
    const text = `${before}# more\n`;
    const saved = await server.json('PUT', '/api/experiment', { hash: textHash(before), text });
    expect(saved.status).toBe(200);
    const check = {
      kind: 'diameter',
      subject: 'brass-12',
      bench: null,
      value: '12.1 mm',
      who: 'IK',
      note: '',
    };
    expect((await server.json('POST', '/api/rig/checks', check)).status).toBe(200);
    const back = { id: 'c1', who: 'IK', why: 'the wrong one' };
    expect((await server.json('POST', '/api/rig/withdrawals', back)).status).toBe(200);
    expect((await trail()).entries).toMatchObject([
      { done: 'saved the experiment file', about: 'experiment.yaml', sha256: textHash(text) },
      { done: 'kept a check of a rig', note: 'c1: diameter brass-12 12.1 mm, signed IK' },
      { done: 'took an entry about a rig back', note: 'c1: the wrong one, signed IK' },
    ]);
  });

  it('knows its days, and asks for nothing else', async () => {
    expect((await get('/api/trail?day=2026-03-02')).status).toBe(404);
    expect((await get('/api/trail?day=../../x')).status).toBe(400);
  });

  it('keeps a deed from being acknowledged where it cannot be written', async () => {
    await writeFile(join(server.folder, 'trail'), 'no folder');
    const request = { section: 'A', released: true, who: 'IK' };
    const answer = await server.json('POST', '/api/releases', request);
    expect(answer.status).toBe(507);
    expect(await answer.text()).toContain('It was done and is kept');
  });
});

describe('releases over the wire', () => {
  const release = (request: unknown) => server.json('POST', '/api/releases', request);

  it('stand section by section, and are in the trail', async () => {
    const before = releasesView.parse(await (await get('/api/releases')).json());
    expect(before.sections.map(({ section, released }) => [section, released])).toEqual([
      ['A', false],
      ['B', false],
      // The group of the experiment is in none.
      [null, false],
    ]);
    const answer = await release({ section: 'A', released: true, who: ' IK ' });
    const { sections } = releasesView.parse(await answer.json());
    expect(sections[0]).toMatchObject({ section: 'A', released: true, who: 'IK' });
    expect(sections[1]?.released).toBe(false);
    await release({ section: 'A', released: false, who: 'MB' });
    const after = releasesView.parse(await (await get('/api/releases')).json());
    expect(after.sections[0]).toMatchObject({ released: false, who: 'MB' });
    expect((await trail()).entries).toMatchObject([
      { done: 'released results', about: 'releases.json', note: 'section A, signed IK' },
      { done: 'took the release of results back', note: 'section A, signed MB' },
    ]);
  });

  it.each([
    [{ section: 'Q', released: true, who: 'IK' }, 422],
    [{ section: 'A', released: true, who: ' ' }, 400],
    [{ section: 'A', who: 'IK' }, 400],
  ])('refuses %o', async (request, status) => {
    expect((await release(request)).status).toBe(status);
    expect((await trail()).entries).toEqual([]);
  });

  it('say what is wrong with their file without saying where it lies', async () => {
    await writeFile(join(server.folder, 'releases.json'), '{');
    const answer = await get('/api/releases');
    expect(answer.status).toBe(507);
    expect(await answer.text()).not.toContain(server.folder);
  });
});

import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { classView, problem } from '../../src/server/contract/index.ts';
import { folderRecordings, type OpenRecordings } from '../../src/server/folder-recordings.ts';
import { testServer } from './app.ts';

const demo = join('demo', 'thornwick');
const bare = (group: string) => `recordings/A/${group}/bare-junction_120-1.txt`;
const folder = mkdtempSync(join(tmpdir(), 'emberline-class-server-'));
let recordings: OpenRecordings;
let server: Awaited<ReturnType<typeof testServer>>;

beforeAll(async () => {
  cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  for (const [from, to] of [
    ['A1', 'A1'],
    ['A2', 'A2'],
    ['A1', 'A3'],
  ] as const) {
    mkdirSync(dirname(join(folder, bare(to))), { recursive: true });
    cpSync(join(demo, bare(from)), join(folder, bare(to)));
  }
  recordings = await folderRecordings(folder, () => undefined);
  server = await testServer({ recordings });
  for (const group of ['A1', 'A2', 'A3']) await recordings.detail(bare(group));
}, 60_000);
afterAll(async () => {
  await recordings.close();
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

async function rolled(query = '') {
  const response = await server.app.request(`/api/class${query}`);
  const body: unknown = await response.json();
  expect(response.status, `${JSON.stringify(body)} ${server.logged.join()}`).toBe(200);
  // Nothing beyond the contract, and no number that JSON does not have.
  expect(classView.parse(body)).toEqual(body);
  return classView.parse(body);
}

describe('the class over the wire', () => {
  it('says who should look again, by group codes', async () => {
    const view = await rolled();
    expect(view).toMatchObject({ recordings: 3, counting: 2, sections: ['A'], waiting: 0 });
    expect(view.lookAgain).toMatchObject([{ kind: 'same-trace', groups: ['A1', 'A3'] }]);
    expect(await rolled('?section=A')).toEqual(view);
  });

  it('follows what a person decides', async () => {
    const request = { kind: 'reject', who: 'R. Hale', why: 'the door was open' } as const;
    await recordings.decide(bare('A2'), request, async () => undefined);
    const view = await rolled();
    expect(view.counting).toBe(1);
    expect(view.left.find(({ path }) => path === bare('A2'))?.reason).toContain('the door was open');
  });

  it('knows its sections, and asks for nothing else', async () => {
    for (const query of ['?section=Q', '?section=', `?section=${'x'.repeat(200)}`]) {
      const response = await server.app.request(`/api/class${query}`);
      expect(response.status, query).toBe(400);
      expect(problem.parse(await response.json()).mend).not.toBe('');
    }
    // A section that the course has, and that has recorded nothing yet.
    expect((await rolled('?section=B')).recordings).toBe(0);
  });
});

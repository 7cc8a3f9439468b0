import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type Caller, callerAs } from '../../src/server/access/caller.ts';
import { handedIn, knownBytes, problem } from '../../src/server/contract/index.ts';
import { trailDays } from '../../src/store/index.ts';
import { experimentText, testServer } from './app.ts';

let caller: Caller;
let server: Awaited<ReturnType<typeof testServer>>;
beforeEach(async () => {
  caller = callerAs('group', 'g1');
  server = await testServer({
    identity: { callerOf: async () => caller },
    text: experimentText.replace('  g1: {}\n', '  g1: {}\n  g2: {}\n'),
  });
});
afterEach(() => server.remove());

const rows = Array.from(
  { length: 200 },
  (_, i) => `${(i / 10).toFixed(1)};${(80 * Math.exp(-i / 50)).toFixed(2)}`,
);
const text = `Time (s);Sphere (degC)\n${rows.join('\n')}\n`;
const sha256 = createHash('sha256').update(text).digest('hex');

function put(address: string, body: string): Promise<Response> {
  return Promise.resolve(
    server.app.request(`/api/handed-in/${address}`, { method: 'PUT', headers: { host: 'localhost' }, body }),
  );
}
async function refused(answer: Response, status: number): Promise<string> {
  const read = problem.parse(await answer.json());
  expect([answer.status, read.status]).toEqual([status, status]);
  expect(await readdir(join(server.folder, '.uploads')).catch(() => [])).toEqual([]);
  expect(await readdir(join(server.folder, 'recordings')).catch(() => [])).toEqual([]);
  return `${read.detail} ${read.mend}`;
}

it('hands a recording in at one stroke, at the place that its name says, in the own group', async () => {
  const answer = handedIn.parse(await (await put('brass-12_60-2.txt', text)).json());
  expect(answer).toMatchObject({
    path: 'recordings/g1/brass-12_60-2.txt',
    again: false,
    readable: true,
    sha256,
  });
  expect(await readFile(join(server.folder, answer.path), 'utf8')).toBe(text);
  const [day = ''] = await trailDays(server.folder);
  const trail = await readFile(join(server.folder, 'trail', `${day}.tsv`), 'utf8');
  expect(trail).toMatch(new RegExp(`group\tg1.*kept a recording\t${answer.path}\t${sha256}`));
});

it('takes what is said in the address over the name', async () => {
  const answer = await put('log7.csv?body=brass-20&flow=120&repeat=3', text);
  expect(handedIn.parse(await answer.json()).path).toBe('recordings/g1/brass-20_120-3.csv');
});

it('answers the same to the same file again, and says by its hash that it is there', async () => {
  await put('brass-12_60-1.txt', text);
  const again = handedIn.parse(await (await put('brass-12_60-1.txt', text)).json());
  expect(again).toMatchObject({ path: 'recordings/g1/brass-12_60-1.txt', again: true });
  const ask = async () => {
    const answer = await server.app.request(`/api/handed-in?bytes=${text.length}&sha256=${sha256}`, {
      headers: { host: 'localhost' },
    });
    return knownBytes.parse(await answer.json()).path;
  };
  expect(await ask()).toBe('recordings/g1/brass-12_60-1.txt');
  caller = callerAs('group', 'g2');
  expect(await ask()).toBeNull();
  // Of another group it is a recording of its own: that two hand in the same is for the staff to see.
  const other = handedIn.parse(await (await put('brass-12_60-1.txt', text)).json());
  expect(other).toMatchObject({ path: 'recordings/g2/brass-12_60-1.txt', again: false });
});

it('writes over nothing', async () => {
  await put('brass-12_60-1.txt', text);
  expect((await put('brass-12_60-1.csv', `${text}20.0;1.00\n`)).status).toBe(409);
  expect(await readFile(join(server.folder, 'recordings/g1/brass-12_60-1.txt'), 'utf8')).toBe(text);
});

it('refuses what has no place, with the codes to take', async () => {
  expect(await refused(await put('log7.txt', text), 422)).toMatch(
    /body one of brass-12, brass-20; flow one of 60, 120/,
  );
  expect(await refused(await put('log7.txt?body=copper-9&flow=60', text), 422)).toContain('copper-9');
  await refused(await put('brass-12_60-1.txt?group=g2', text), 403);
  await refused(await put('brass-12_60-1.txt?repeat=0', text), 400);
  expect(await refused(await put('..%2f..%2fx.txt', text), 422)).not.toContain(server.folder);
});

it('refuses what arrives otherwise than its hash says, or cannot be read, and keeps nothing of it', async () => {
  expect(await refused(await put(`brass-12_60-1.txt?sha256=${'0'.repeat(64)}`, text), 422)).toContain(sha256);
  const bare = rows.map((row) => row.split(';')[1]).join('\n');
  expect(await refused(await put('brass-12_60-1.txt', bare), 422)).toContain('unread=keep');
  const kept = handedIn.parse(await (await put('brass-12_60-1.txt?unread=keep', bare)).json());
  expect(kept).toMatchObject({ path: 'recordings/g1/brass-12_60-1.txt', readable: false });
  expect(kept.mend).not.toBeNull();
});

it('has groups hand in only where paths say whose a recording is', async () => {
  const plain = experimentText.replace('recordings/{group}/', 'recordings/');
  await writeFile(join(server.folder, 'experiment.yaml'), plain);
  expect(await refused(await put('brass-12_60-1.txt', text), 422)).toContain('{group}');
  caller = callerAs('instructor');
  await mkdir(join(server.folder, 'recordings'), { recursive: true });
  expect((await put('brass-12_60-1.txt', text)).status).toBe(200);
});

it('is for benches and staff alone', async () => {
  caller = callerAs('display');
  expect((await put('brass-12_60-1.txt', text)).status).toBe(403);
});

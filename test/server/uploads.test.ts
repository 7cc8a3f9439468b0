import { mkdir, readdir, readFile, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { kept, upload } from '../../src/server/contract/index.ts';
import { openUploads } from '../../src/store/index.ts';
import { testServer } from './app.ts';

let server: Awaited<ReturnType<typeof testServer>>;
beforeEach(async () => {
  server = await testServer();
});
afterEach(() => server.remove());

const rows = Array.from(
  { length: 200 },
  (_, i) => `${(i / 10).toFixed(1)};${(80 * Math.exp(-i / 50)).toFixed(2)}`,
);
const text = `Time (s);Sphere (degC)\n${rows.join('\n')}\n`;
/** No unit, no time, no header: the reader has to ask. */
const bare = `${rows.map((row) => row.split(';')[1]).join('\n')}\n`;

async function send(name: string, body: string | Uint8Array<ArrayBuffer>) {
  const path = `/api/uploads?name=${encodeURIComponent(name)}`;
  return server.app.request(path, { method: 'POST', body });
}
const taken = async (name: string, body: string | Uint8Array<ArrayBuffer>) => {
  return upload.parse(await (await send(name, body)).json());
};
const place = { group: 'g1', body: 'brass-12', flow: '60', repeat: 1 };

it('says how a file is understood, with its first rows', async () => {
  const seen = await taken('g1 brass-12_60.csv', text);
  expect(seen.understood).toMatchObject({
    delimiter: ';',
    decimal: '.',
    rate: 10,
    samples: 200,
    unit: 'degC',
  });
  expect(seen.rows[0]).toEqual({ line: 1, cells: ['Time (s)', 'Sphere (degC)'] });
  expect(seen.rows).toHaveLength(20);
  expect(seen.place).toMatchObject({ group: 'g1', body: 'brass-12', flow: '60' });
  const packed = await taken('a.txt.gz', new Uint8Array(gzipSync(text)));
  expect(packed.rows).toEqual(seen.rows);
});

it('says what is missing, and reads again with it', async () => {
  const asked = await taken('bare.txt', bare);
  expect(asked.understood).toBeNull();
  expect(asked.trouble?.mend).not.toBe('');
  expect(asked.rows[0]?.cells).toEqual(['80.00']);
  const answer = await server.json('POST', `/api/uploads/${asked.id}/read`, {
    options: { rate: 10, unit: 'degC' },
  });
  expect(upload.parse(await answer.json()).understood).toMatchObject({ rate: 10, unit: 'degC' });
  const wrong = await server.json('POST', `/api/uploads/${asked.id}/read`, { options: { rate: -1 } });
  expect(wrong.status).toBe(400);
});

it('keeps a file at its place, once, and knows it again', async () => {
  const { id } = await taken('x.csv', text);
  const answer = await server.json('POST', `/api/uploads/${id}/keep`, { place });
  expect(kept.parse(await answer.json()).path).toBe('recordings/g1/brass-12_60-1.csv');
  expect(await readFile(join(server.folder, 'recordings/g1/brass-12_60-1.csv'), 'utf8')).toBe(text);
  // The answer may be lost: whoever asks again hears the same.
  const twice = await server.json('POST', `/api/uploads/${id}/keep`, { place });
  expect(kept.parse(await twice.json())).toEqual({ path: 'recordings/g1/brass-12_60-1.csv', again: true });
});

it('knows the same bytes of a group as the same recording, wherever they are to go', async () => {
  const { id } = await taken('x.csv', text);
  await server.json('POST', `/api/uploads/${id}/keep`, { place });
  const again = await taken('y.txt', text);
  expect(again.sameAs).toBe('recordings/g1/brass-12_60-1.csv');
  const answer = await server.json('POST', `/api/uploads/${again.id}/keep`, {
    place: { ...place, repeat: 2 },
  });
  expect(kept.parse(await answer.json())).toEqual({ path: 'recordings/g1/brass-12_60-1.csv', again: true });
  expect(await readdir(join(server.folder, 'recordings/g1'))).toEqual(['brass-12_60-1.csv']);
});

it('writes over nothing: the same place with another ending would be the same trial twice', async () => {
  const { id } = await taken('x.csv', text);
  await server.json('POST', `/api/uploads/${id}/keep`, { place });
  const other = await taken('y.txt', `${text}20.0;1.00\n`);
  expect((await server.json('POST', `/api/uploads/${other.id}/keep`, { place })).status).toBe(409);
  expect(await readFile(join(server.folder, 'recordings/g1/brass-12_60-1.csv'), 'utf8')).toBe(text);
});

it.each([
  { ...place, body: 'brass-99' },
  { ...place, body: '../../x' },
  { ...place, group: '..' },
  { ...place, group: undefined },
  { ...place, flow: '__proto__' },
  { ...place, body: '<b>' },
])('refuses the place %o', async (odd) => {
  const { id } = await taken('x.txt', text);
  const answer = await server.json('POST', `/api/uploads/${id}/keep`, { place: odd });
  expect(answer.status).toBe(422);
});

it.each(['../../../etc/passwd', 'C:\\x\\y.txt', '<img src=x>.txt', 'a\0b.txt', '.hidden'])(
  'never makes a path of the name %j',
  async (name) => {
    const before = (await readdir(server.folder)).filter((one) => one !== '.uploads');
    const seen = await taken(name, text);
    expect(seen.name).toBe(name);
    expect(await readdir(join(server.folder, '.uploads'))).toEqual([`${seen.id}.bytes`, `${seen.id}.json`]);
    expect((await readdir(server.folder)).filter((one) => one !== '.uploads')).toEqual(before);
  },
);

it('refuses what is empty, no text, or too large, and leaves nothing of that', async () => {
  expect((await taken('e.txt', '')).trouble).not.toBeNull();
  expect((await taken('z.zip', 'PK\x03\x04rest')).trouble).not.toBeNull();
  const before = await readdir(join(server.folder, '.uploads'));
  expect((await send('big.txt', 'x'.repeat(2e6))).status).toBe(413);
  const chunk = new Uint8Array(65_536).fill(120);
  const endless = new ReadableStream({ pull: (controller) => controller.enqueue(chunk) });
  const streamed = new Request('http://localhost/api/uploads?name=e', {
    method: 'POST',
    body: endless,
    duplex: 'half',
  } as RequestInit);
  expect((await server.app.request(streamed)).status).toBe(413);
  expect(await readdir(join(server.folder, '.uploads'))).toEqual(before);
});

it('takes files away that nobody kept for a day', async () => {
  const { id } = await taken('x.txt', text);
  await mkdir(join(server.folder, '.uploads'), { recursive: true });
  await writeFile(join(server.folder, '.uploads', 'mine.txt'), 'of a person');
  const old = new Date(Date.now() - 2 * 86_400_000);
  for (const name of [`${id}.bytes`, `${id}.json`, 'mine.txt']) {
    await utimes(join(server.folder, '.uploads', name), old, old);
  }
  await openUploads(server.folder).sweep(Date.now());
  expect(await readdir(join(server.folder, '.uploads'))).toEqual(['mine.txt']);
});

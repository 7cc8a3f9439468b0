import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync, brotliDecompressSync } from 'node:zlib';
import { Hono } from 'hono';
import { afterAll, expect, test } from 'vitest';
import { servePage } from '../../src/server/page.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-page-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const script = 'console.log("the page");\n'.repeat(50);
writeFileSync(join(folder, 'page.js'), script);
writeFileSync(join(folder, 'page.js.br'), brotliCompressSync(script));
writeFileSync(join(folder, 'plain.js'), script);
const files = new Map(
  ['page.js', 'page.js.br', 'plain.js'].map((name) => [`/assets/${name}`, join(folder, name)]),
);
const app = new Hono().get(
  '*',
  servePage(async () => files),
);

async function asked(path: string, encodings?: string) {
  const answer = await app.request(
    path,
    encodings === undefined ? {} : { headers: { 'accept-encoding': encodings } },
  );
  return { answer, body: Buffer.from(await answer.arrayBuffer()) };
}

test('a browser that unpacks Brotli gets the packed file, under the name and type of the plain one', async () => {
  const { answer, body } = await asked('/assets/page.js', 'gzip, deflate, br, zstd');
  expect(answer.headers.get('content-encoding')).toBe('br');
  expect(answer.headers.get('content-type')).toBe('text/javascript; charset=utf-8');
  expect(answer.headers.get('vary')).toBe('accept-encoding');
  expect(brotliDecompressSync(body).toString()).toBe(script);
});

test.each([undefined, 'gzip', 'br;q=0', 'gzip, br; q=0.0', 'abr'])(
  'one that accepts %j gets the plain file',
  async (accepted) => {
    const { answer, body } = await asked('/assets/page.js', accepted);
    expect(answer.headers.get('content-encoding')).toBeNull();
    expect(body.toString()).toBe(script);
  },
);

test('a file that was not packed is sent as it is', async () => {
  const { answer, body } = await asked('/assets/plain.js', 'br');
  expect(answer.headers.get('content-encoding')).toBeNull();
  expect(body.toString()).toBe(script);
});

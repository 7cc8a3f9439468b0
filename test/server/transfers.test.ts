import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Upload } from 'tus-js-client';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Caller, callerAs } from '../../src/server/access/caller.ts';
import { kept, upload } from '../../src/server/contract/index.ts';
import { openWorkbench } from '../../src/server/index.ts';
import { type BreakingLine, breakingLine } from '../support/breaking-line.ts';
import { experimentText, testServer } from './app.ts';

/** As tus 1.0.0 has it, section "Headers". */
const version = { 'tus-resumable': '1.0.0', host: 'localhost' };
const inBase64 = (text: string) => Buffer.from(text).toString('base64');
const about = (name: string, more: Readonly<Record<string, string>> = {}) =>
  Object.entries({ filename: name, ...more })
    .map(([key, value]) => `${key} ${inBase64(value)}`)
    .join(',');

describe('with tus-js-client, a client written elsewhere', () => {
  let folder = '';
  let running: Awaited<ReturnType<typeof start>>;
  let line: BreakingLine;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'emberline-tus-'));
    await writeFile(join(folder, 'experiment.yaml'), experimentText);
    running = await start(folder);
    line = await breakingLine(() => running.port);
  });
  afterEach(async () => {
    await line.close();
    await running.close();
    await rm(folder, { recursive: true, force: true });
  });

  /** Sends a file, and starts the server again each time that the line breaks by `restart`. */
  function send(bytes: Buffer, name: string, chunkSize: number): Promise<string> {
    return new Promise((resolve, reject) => {
      const sending = new Upload(bytes, {
        endpoint: `http://127.0.0.1:${line.port}/api/transfers`,
        metadata: { filename: name, sha256: createHash('sha256').update(bytes).digest('hex') },
        chunkSize,
        retryDelays: Array.from({ length: 40 }, () => 20),
        onError: reject,
        onSuccess: () => resolve(sending.url?.split('/').at(-1) ?? ''),
      });
      sending.start();
    });
  }

  it.each([
    { chunkSize: Number.POSITIVE_INFINITY, breaks: [70_000, 300_000, 301_000, 900_000] },
    { chunkSize: 100_000, breaks: [50, 180_000, 210_000, 555_555, 1_000_001] },
  ])('resumes where the line broke, in pieces of $chunkSize', async ({ chunkSize, breaks }) => {
    const bytes = Buffer.from(Uint8Array.from({ length: 1_200_000 }, (_, i) => (i * 31) % 253));
    line.breakAt(breaks);
    const id = await send(bytes, 'g1 brass-12_60-1.txt', chunkSize);
    expect(line.broken()).toBe(breaks.length);
    const waits = join(folder, '.uploads', `${id}.bytes`);
    expect((await readFile(waits)).equals(bytes)).toBe(true);
    // Whatever broke was no reason to begin again.
    expect(line.passed()).toBeLessThan(bytes.length * 1.6);
  });

  it('goes on with another server over the same folder', async () => {
    const bytes = Buffer.from(Uint8Array.from({ length: 900_000 }, (_, i) => (i * 17) % 251));
    line.breakAt([400_000], async () => {
      await running.close();
      running = await start(folder);
    });
    const id = await send(bytes, 'g1 brass-12_60-2.txt', 150_000);
    expect((await readFile(join(folder, '.uploads', `${id}.bytes`))).equals(bytes)).toBe(true);
  });
});

describe('by the letter of the protocol', () => {
  let caller: Caller = callerAs('instructor');
  let server: Awaited<ReturnType<typeof testServer>>;
  beforeEach(async () => {
    caller = callerAs('instructor');
    server = await testServer({ identity: { callerOf: async () => caller } });
  });
  afterEach(() => server.remove());

  const ask = (method: string, path: string, headers: Record<string, string> = {}, body?: string) =>
    server.app.request(path, {
      method,
      headers: { ...version, ...headers },
      ...(body === undefined ? {} : { body }),
    });
  const begin = async (name: string, text: string, more: Readonly<Record<string, string>> = {}) => {
    const headers = {
      'upload-length': String(Buffer.byteLength(text)),
      'upload-metadata': about(name, more),
    };
    const answer = await ask('POST', '/api/transfers', headers);
    expect(answer.status).toBe(201);
    return answer.headers.get('location') ?? '';
  };
  const append = (address: string, offset: number, body: string, headers: Record<string, string> = {}) => {
    const own = { 'content-type': 'application/offset+octet-stream', 'upload-offset': String(offset) };
    return ask('PATCH', address, { ...own, ...headers }, body);
  };
  const text = 't;T\n0.0;80.0\n0.1;79.1\n0.2;78.2\n0.3;77.4\n';

  it('says what it speaks (core, OPTIONS)', async () => {
    const answer = await ask('OPTIONS', '/api/transfers');
    expect(answer.status).toBe(204);
    expect(answer.headers.get('tus-version')).toBe('1.0.0');
    expect(answer.headers.get('tus-extension')?.split(',')).toEqual(
      expect.arrayContaining(['creation', 'checksum', 'termination', 'expiration']),
    );
    expect(answer.headers.get('tus-checksum-algorithm')?.split(',')).toContain('sha1');
    expect(Number(answer.headers.get('tus-max-size'))).toBe(1e6);
  });

  it('refuses other versions (core, 412 with Tus-Version)', async () => {
    const answer = await ask('POST', '/api/transfers', { 'tus-resumable': '0.2.2' });
    expect(answer.status).toBe(412);
    expect(answer.headers.get('tus-version')).toBe('1.0.0');
  });

  it('appends, says how far it is, and hands the file over whole (core)', async () => {
    const address = await begin('a.txt', text);
    const first = await append(address, 0, text.slice(0, 10));
    expect([first.status, first.headers.get('upload-offset')]).toEqual([204, '10']);
    expect(Date.parse(first.headers.get('upload-expires') ?? '')).toBeGreaterThan(Date.now());
    const head = await ask('HEAD', address);
    expect(head.status).toBe(200);
    expect(head.headers.get('upload-offset')).toBe('10');
    expect(head.headers.get('upload-length')).toBe(String(text.length));
    expect(head.headers.get('cache-control')).toBe('no-store');
    expect((await append(address, 3, 'x')).status).toBe(409);
    expect((await append(address, 10, text.slice(10))).headers.get('upload-offset')).toBe(
      String(text.length),
    );
    const id = address.split('/').at(-1) ?? '';
    const read = await server.json(
      'POST',
      `/api/uploads/${id}/read`,
      { options: { rate: 10 } },
      { host: 'localhost' },
    );
    expect(upload.parse(await read.json())).toMatchObject({ name: 'a.txt', bytes: text.length });
    expect((await ask('HEAD', address)).headers.get('upload-offset')).toBe(String(text.length));
  });

  it('refuses bytes of another type (core, 415), odd headers (400), and what is too large (creation, 413)', async () => {
    const address = await begin('a.txt', text);
    expect((await append(address, 0, 'x', { 'content-type': 'text/plain' })).status).toBe(415);
    for (const odd of ['-1', '1.5', '', 'x'])
      expect((await append(address, 0, 'x', { 'upload-offset': odd })).status).toBe(400);
    const lengths = ['', '-1', 'x', '1e9', '99999999999999999999'];
    for (const length of lengths) {
      const headers = { 'upload-length': length, 'upload-metadata': about('a.txt') };
      expect((await ask('POST', '/api/transfers', headers)).status).toBe(400);
    }
    const large = { 'upload-length': '1000001', 'upload-metadata': about('a.txt') };
    expect((await ask('POST', '/api/transfers', large)).status).toBe(413);
    for (const metadata of [
      '',
      'filename',
      'filename !!',
      `filename ${inBase64('a')},filename ${inBase64('b')}`,
    ]) {
      const headers = { 'upload-length': '5', 'upload-metadata': metadata };
      expect((await ask('POST', '/api/transfers', headers)).status).toBe(400);
    }
    expect((await ask('HEAD', `/api/transfers/${'0'.repeat(32)}`)).status).toBe(404);
  });

  it('checks bytes by their hash (checksum, 460), in both algorithms', async () => {
    const address = await begin('a.txt', text);
    const hash = (algorithm: string, of: string) =>
      `${algorithm} ${createHash(algorithm).update(of).digest('base64')}`;
    const wrong = await append(address, 0, text, { 'upload-checksum': hash('sha1', 'another text') });
    expect(wrong.status).toBe(460);
    expect(wrong.headers.get('content-type')).toBe('application/problem+json');
    expect((await ask('HEAD', address)).headers.get('upload-offset')).toBe('0');
    expect((await append(address, 0, text, { 'upload-checksum': 'crc32 AAAA' })).status).toBe(400);
    const half = text.slice(0, 12);
    expect((await append(address, 0, half, { 'upload-checksum': hash('sha1', half) })).status).toBe(204);
    const rest = text.slice(12);
    expect((await append(address, 12, rest, { 'upload-checksum': hash('sha256', rest) })).status).toBe(204);
  });

  it('refuses a whole file of another hash with a sentence', async () => {
    const address = await begin('a.txt', text, { sha256: 'ab'.repeat(32) });
    const answer = await append(address, 0, text);
    expect(answer.status).toBe(422);
    expect(await answer.json()).toMatchObject({ detail: expect.stringContaining('Nothing of it was kept') });
    expect(await readdir(join(server.folder, '.uploads'))).toEqual([]);
  });

  it('gives up what is given up (termination)', async () => {
    const address = await begin('a.txt', text);
    expect((await ask('DELETE', address)).status).toBe(204);
    expect((await ask('HEAD', address)).status).toBe(404);
    expect(await readdir(join(server.folder, '.uploads'))).toEqual([]);
  });

  it('shows groups nothing of each other, and keeps their files in their own places', async () => {
    caller = callerAs('group', 'g1');
    const address = await begin('brass-12_60-1.txt', text);
    await append(address, 0, text);
    const id = address.split('/').at(-1) ?? '';
    const read = (options: object) =>
      server.json('POST', `/api/uploads/${id}/read`, { options }, { host: 'localhost' });
    const keep = (group?: string) =>
      server.json(
        'POST',
        `/api/uploads/${id}/keep`,
        { place: { body: 'brass-12', flow: '60', repeat: 1, group } },
        { host: 'localhost' },
      );
    caller = callerAs('group', 'g2');
    for (const method of ['HEAD', 'DELETE']) expect((await ask(method, address)).status).toBe(404);
    expect((await append(address, 0, 'x')).status).toBe(404);
    expect((await read({})).status).toBe(404);
    expect((await keep('g1')).status).toBe(404);
    caller = callerAs('group', 'g1');
    expect((await read({})).status).toBe(200);
    expect((await keep('g2')).status).toBe(403);
    expect(kept.parse(await (await keep()).json()).path).toBe('recordings/g1/brass-12_60-1.txt');
    caller = callerAs('group', 'g2');
    expect((await keep()).status).toBe(404);
  });
});

/** A server over a folder. */
async function start(folder: string) {
  const workbench = await openWorkbench({ folder, pageFolder: join(folder, 'none'), log: () => undefined });
  const { port, close } = await workbench.listen(0);
  return {
    port,
    close: async () => {
      await close();
      await workbench.close();
    },
  };
}

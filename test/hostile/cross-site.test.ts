import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { request as secureRequest } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { permissions } from '../../src/server/access/permissions.ts';
import { openRoom, type Room } from '../../src/server/access/room.ts';
import { openWorkbench } from '../../src/server/index.ts';
import { readRoomFile, setPassphrase, shownCode } from '../../src/store/index.ts';
import { experimentText, testServer } from '../server/app.ts';

const passphrase = 'brass sphere, cold jet';
let folder = '';
let room: Room;
let server: Awaited<ReturnType<typeof testServer>>;
let instructor = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-cross-site-'));
  writeFileSync(join(folder, 'experiment.yaml'), experimentText);
  await setPassphrase(folder, passphrase);
  room = await openRoom(folder, () => Date.now());
  server = await testServer({
    folder,
    room,
    reach: { names: new Set(['lab.example']), scheme: 'https', addresses: [], fingerprint: null },
  });
  instructor = await signedIn({ as: 'instructor', secret: passphrase });
});
afterAll(async () => {
  await room.close();
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

const host = 'lab.example';
const codeOf = async () => shownCode((await room.access()).groups.get('g1') ?? '');
const basic = (text: string) => `Basic ${Buffer.from(text).toString('base64')}`;

function ask(method: string, path: string, headers: Record<string, string>, body?: string) {
  return server.app.request(`https://${host}${path}`, {
    method,
    headers: { host, ...headers },
    ...(body === undefined ? {} : { body }),
  });
}

async function signedIn(credentials: object, cookie?: string): Promise<string> {
  const headers = { 'content-type': 'application/json', ...(cookie === undefined ? {} : { cookie }) };
  const answer = await ask('POST', '/api/session', headers, JSON.stringify(credentials));
  expect(answer.status).toBe(200);
  return answer.headers.get('set-cookie')?.split(';')[0] ?? '';
}
const asGroup = async (cookie?: string) =>
  signedIn({ as: 'group', group: 'g1', code: await codeOf() }, cookie);

/** What a page of another site makes a browser send, even with the cookie, should that ever come along. */
const foreign: readonly Record<string, string>[] = [
  { origin: 'https://evil.example' },
  { origin: 'null' },
  { origin: 'http://lab.example' },
  { origin: 'https://lab.example:8443' },
  { origin: 'https://lab.example.evil.example' },
  { origin: 'https://evil.lab.example' },
  { origin: '' },
  { 'sec-fetch-site': 'cross-site' },
  { 'sec-fetch-site': 'same-site' },
  { 'sec-fetch-site': 'cross-site', origin: 'https://lab.example' },
  { 'sec-fetch-site': 'nonsense' },
];

/** An address of each route that changes something. */
const writes = Object.keys(permissions)
  .map((route) => route.split(' '))
  .filter(([method]) => method !== 'GET' && method !== 'OPTIONS')
  .map(([method = '', path = '']) => [
    method,
    path
      .replace(/:path\{\.\+\}/, 'recordings/a.txt')
      .replace(':id', '1'.repeat(32))
      .replace(/:\w+/, 'g1'),
  ]);

describe('requests of another site', () => {
  test('there are writes of every kind to try', () => {
    const tried = writes.map((one) => one.join(' '));
    expect(tried).toEqual(
      expect.arrayContaining([
        'POST /api/session',
        'DELETE /api/session',
        'POST /api/room/codes',
        `PATCH /api/transfers/${'1'.repeat(32)}`,
        `DELETE /api/transfers/${'1'.repeat(32)}`,
        'PUT /api/handed-in/g1',
        'POST /api/mine/submission',
        'POST /api/mine/sheets',
      ]),
    );
  });

  test.each(foreign)('with %j change nothing, by whichever route', async (headers) => {
    const cookies = [instructor, await asGroup()];
    const sessions = room.sessions.list();
    const before = readdirSync(folder, { recursive: true });
    for (const cookie of cookies) {
      for (const [method = '', path = ''] of writes) {
        const answer = await ask(
          method,
          path,
          { ...headers, cookie, 'content-type': 'application/json' },
          '{}',
        );
        expect(answer.status, `${method} ${path}`).toBe(403);
        expect(answer.headers.has('access-control-allow-origin')).toBe(false);
        expect(answer.headers.has('set-cookie')).toBe(false);
        expect(await answer.text()).toContain('another site');
      }
    }
    expect(room.sessions.list()).toEqual(sessions);
    expect(readdirSync(folder, { recursive: true })).toEqual(before);
  });

  test.each(foreign)('with %j make no documents and no exports', async (headers) => {
    const cookie = instructor;
    for (const path of ['/api/documents/class?format=html', '/api/exports/results?format=csv']) {
      expect((await ask('GET', path, { ...headers, cookie })).status).toBe(403);
    }
  });

  test('may not ask beforehand what they may send (Fetch, CORS preflight)', async () => {
    for (const [method = '', path = ''] of writes) {
      const answer = await ask('OPTIONS', path, {
        origin: 'https://evil.example',
        'access-control-request-method': method,
        'access-control-request-headers': 'authorization, content-type, tus-resumable',
      });
      for (const what of ['origin', 'methods', 'headers', 'credentials']) {
        expect(answer.headers.has(`access-control-allow-${what}`)).toBe(false);
      }
    }
  });

  test('as a form sends them are not taken for JSON, even where nothing else gives them away', async () => {
    const cookie = instructor;
    for (const type of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x',
    ]) {
      for (const path of ['/api/session', '/api/room/codes', '/api/room/ends', '/api/releases']) {
        const answer = await ask('POST', path, { cookie, 'content-type': type }, '{"of":"assistant"}');
        expect(answer.status).toBe(415);
      }
    }
  });

  test('are told from those of the own page', async () => {
    const headers = { origin: `https://${host}`, 'sec-fetch-site': 'same-origin' };
    const cookie = await asGroup();
    const answer = await ask('PUT', '/api/handed-in/x.txt', { ...headers, cookie }, '1');
    expect(answer.status).toBe(422);
  });

  test('that carry a code of their own by HTTP Basic change nothing, and no browser is asked for one', async () => {
    const authorization = basic(`g1:${await codeOf()}`);
    const own = await ask('PUT', '/api/handed-in/x.txt', { authorization }, '1');
    expect(own.status).toBe(422);
    for (const headers of foreign) {
      const answer = await ask('PUT', '/api/handed-in/x.txt', { ...headers, authorization }, '1');
      expect(answer.status).toBe(403);
    }
    // A browser that asks keeps what it is told, and sends it with what other sites ask for (RFC 7617, 4).
    for (const path of ['/', '/api/recordings', '/api/room']) {
      const refused = await ask('GET', path, { authorization: basic('g1:wrong') });
      expect(refused.headers.has('www-authenticate')).toBe(false);
    }
  });
});

describe('the cookie', () => {
  test('is never sent with what another site asks for, nor to another host', async () => {
    const headers = { 'content-type': 'application/json' };
    const body = JSON.stringify({ as: 'group', group: 'g1', code: await codeOf() });
    const answer = await ask('POST', '/api/session', headers, body);
    const said = (answer.headers.get('set-cookie') ?? '').split('; ');
    expect(said[0]).toMatch(/^__Host-emberline=[\w-]{43}$/);
    expect(said.slice(1).toSorted()).toEqual([
      'HttpOnly',
      'Max-Age=43200',
      'Path=/',
      'SameSite=Strict',
      'Secure',
    ]);
  });

  test('that somebody else has put there is not taken over: signing in makes a new one, and ends the old', async () => {
    const planted = await asGroup();
    for (const cookie of [planted, '__Host-emberline=chosen-by-somebody-else-000000000000000000']) {
      const own = await asGroup(cookie);
      expect(own).toMatch(/^__Host-emberline=[\w-]{43}$/);
      expect(own).not.toBe(cookie);
      expect((await ask('GET', '/api/mine/now', { cookie })).status).toBe(401);
      expect((await ask('GET', '/api/openapi.json', { cookie: own })).status).toBe(200);
    }
  });

  test('without the prefix that ties it to this host counts for nothing', async () => {
    const token = instructor.split('=')[1] ?? '';
    for (const cookie of [`emberline=${token}`, `__Secure-emberline=${token}`, `__host-emberline=${token}`]) {
      expect((await ask('GET', '/api/room', { cookie })).status).toBe(401);
    }
  });
});

describe('a room over TLS', () => {
  let close: () => Promise<void>;
  let port = 0;
  let ca = '';
  beforeAll(async () => {
    const workbench = await openWorkbench({
      folder,
      pageFolder: join(folder, 'none'),
      log: () => undefined,
      room: { address: '127.0.0.1', names: ['lab.example'], certificate: null, proxy: null },
    });
    const listening = await workbench.listen(0);
    port = listening.port;
    ca = (await readRoomFile(folder, 'certificate.pem')) ?? '';
    close = async () => {
      await listening.close();
      await workbench.close();
    };
  });
  afterAll(() => close());

  /** A request whose certificate is checked for one name, and which names another in its headers. */
  function secure(name: string, headers: Record<string, string> = {}, more: object = {}): Promise<number> {
    return new Promise((resolve, reject) => {
      const asked = secureRequest(
        {
          host: '127.0.0.1',
          port,
          path: '/api/session',
          ca,
          servername: 'lab.example',
          headers: { host: name, ...headers },
          agent: false,
          ...more,
        },
        (answer) => {
          answer.resume();
          resolve(answer.statusCode ?? 0);
        },
      );
      asked.on('error', reject).end();
    });
  }

  test('answers to its names, with its certificate', async () => {
    expect(await secure(`lab.example:${port}`)).toBe(200);
    expect(await secure(`LAB.example`)).toBe(200);
  });

  test.each([
    'evil.example',
    'lab.example.evil.example',
    'evil.lab.example',
    'lab.example.',
    'lab',
    '10.0.0.1',
    '[::1]',
  ])('does not answer to %s (DNS rebinding), whatever a proxy is said to have passed on', async (name) => {
    expect(await secure(name)).toBe(421);
    expect(await secure(name, { 'x-forwarded-host': 'lab.example', forwarded: 'host=lab.example' })).toBe(
      421,
    );
  });

  test('speaks no TLS before 1.2 (RFC 8996)', async () => {
    const old = { minVersion: 'TLSv1', maxVersion: 'TLSv1.1', ciphers: 'DEFAULT@SECLEVEL=0' };
    await expect(secure('lab.example', {}, old)).rejects.toThrow();
  });

  test('shows no certificate for names that are not its own', async () => {
    await expect(secure('lab.example', {}, { servername: 'evil.example' })).rejects.toThrow(
      /altnames|Hostname/,
    );
  });
});

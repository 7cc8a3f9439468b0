import { readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { openRoom, type Room } from '../../../src/server/access/room.ts';
import { longestQuiet, longestSession } from '../../../src/server/access/sessions.ts';
import type { SessionView } from '../../../src/server/contract/index.ts';
import { setPassphrase, shownCode } from '../../../src/store/index.ts';
import { testServer } from '../app.ts';

const passphrase = 'brass sphere, cold jet';
const closing: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

/** A server with a room over a folder of one group, on a clock that a test moves. */
async function openedRoom(text?: string) {
  const first = await testServer(text === undefined ? {} : { text });
  closing.push(first.remove);
  await setPassphrase(first.folder, passphrase);
  let now = Date.UTC(2026, 2, 2, 9);
  const clock = { now: () => now, pass: (ms: number) => (now += ms) };
  const open = async () => {
    const room = await openRoom(first.folder, clock.now);
    const server = await testServer({ folder: first.folder, room });
    closing.push(server.remove);
    return { ...server, folder: first.folder, room };
  };
  return { ...(await open()), open, clock };
}

type Opened = Awaited<ReturnType<typeof openedRoom>>;

async function codeOf(room: Room, group = 'g1'): Promise<string> {
  return shownCode((await room.access()).groups.get(group) ?? '');
}

async function signIn({ json }: Pick<Opened, 'json'>, credentials: unknown) {
  const answer = await json('POST', '/api/session', credentials);
  const cookie = answer.headers.get('set-cookie') ?? '';
  return { status: answer.status, cookie, kept: cookie.split(';')[0] ?? '', body: await answer.text() };
}

function asked({ app }: Pick<Opened, 'app'>, path: string, headers: Record<string, string>) {
  return app.request(path, { headers: { host: 'localhost', ...headers } });
}

describe('signing in', () => {
  it('lets a group in by its code as people type it, and gives a cookie that no script reads', async () => {
    const server = await openedRoom();
    const code = await codeOf(server.room);
    const typed = ` ${code.toLowerCase().replace('-', ' ').replaceAll('0', 'o').replaceAll('1', 'l')} `;
    const { status, cookie, kept, body } = await signIn(server, { as: 'group', group: ' G1', code: typed });
    expect(status).toBe(200);
    expect(cookie).toMatch(/^__Host-emberline=[\w-]{43};/);
    for (const word of ['HttpOnly', 'Secure', 'SameSite=Strict', 'Path=/']) expect(cookie).toContain(word);
    expect(cookie).not.toContain('Domain');
    expect(JSON.parse(body)).toMatchObject({ caller: { role: 'group', group: 'g1' } });
    expect((await asked(server, '/api/recordings', { cookie: kept })).status).toBe(403);
    expect((await asked(server, '/api/session', { cookie: kept })).status).toBe(200);
  });

  it('lets the instructor in by the passphrase, whatever way its letters are composed', async () => {
    const server = await openedRoom();
    await setPassphrase(server.folder, 'Kühler Luftstrahl, heiß'.normalize('NFC'));
    const given = { as: 'instructor', secret: 'Kühler Luftstrahl, heiß'.normalize('NFD') };
    const { status, kept } = await signIn(server, given);
    expect(status).toBe(200);
    expect((await asked(server, '/api/recordings', { cookie: kept })).status).toBe(200);
    expect((await signIn(server, { as: 'instructor', secret: passphrase })).status).toBe(401);
  });

  it('turns everybody else away', async () => {
    const server = await openedRoom();
    const code = await codeOf(server.room);
    for (const wrong of [
      { as: 'group', group: 'g2', code },
      { as: 'group', group: '__proto__', code },
      { as: 'assistant', secret: code },
      { as: 'display', secret: '' },
      { as: 'instructor', secret: code },
      { as: 'everybody', secret: 'x' },
    ]) {
      const { status, cookie } = await signIn(server, wrong);
      expect([400, 401]).toContain(status);
      expect(cookie).toBe('');
    }
    for (const cookie of ['__Host-emberline=', '__Host-emberline=x', 'emberline=abc']) {
      expect((await asked(server, '/api/recordings', { cookie })).status).toBe(401);
    }
  });

  it('gives nobody else a try after ten that failed, and lets the others in all the same', async () => {
    const server = await openedRoom();
    const wrong = { as: 'group', group: 'g1', code: 'AAAAA-AAAAA' };
    for (let i = 0; i < 10; i++) expect((await signIn(server, wrong)).status).toBe(401);
    const { status, body } = await signIn(server, {
      as: 'group',
      group: 'g1',
      code: await codeOf(server.room),
    });
    expect(status).toBe(429);
    expect(body).toContain('Wait');
    const assistant = (await server.room.access()).assistant;
    expect((await signIn(server, { as: 'assistant', secret: assistant })).status).toBe(200);
  });

  it('takes a code by HTTP Basic, as curl sends it (RFC 7617)', async () => {
    const server = await openedRoom();
    const basic = (text: string) => ({ authorization: `Basic ${Buffer.from(text).toString('base64')}` });
    const code = await codeOf(server.room);
    expect((await asked(server, '/api/openapi.json', basic(`g1:${code}`))).status).toBe(200);
    expect((await asked(server, '/api/openapi.json', basic(`g1:${code}x`))).status).toBe(401);
    expect((await asked(server, '/api/openapi.json', basic(`instructor:${passphrase}`))).status).toBe(401);
    expect((await asked(server, '/api/openapi.json', { authorization: 'Bearer x' })).status).toBe(401);
  });

  it('stands in the trail, the secret does not', async () => {
    const server = await openedRoom();
    const code = await codeOf(server.room);
    await signIn(server, { as: 'group', group: 'g1', code });
    await signIn(server, { as: 'group', group: 'g1', code: 'AAAAA-AAAAA' });
    const day = new Date().toISOString().slice(0, 10);
    const trail = await readFile(join(server.folder, 'trail', `${day}.tsv`), 'utf8');
    expect(trail).toMatch(/group\tg1\t.*signed in/);
    expect(trail).toContain('was refused');
    expect(trail).not.toContain(code);
    expect(trail).not.toContain('AAAAA');
  });
});

describe('a device that runs wild', () => {
  it('is held back for a minute, and the others are not', async () => {
    const server = await openedRoom();
    const credentials = { as: 'group', group: 'g1', code: await codeOf(server.room) };
    const [one, other] = [await signIn(server, credentials), await signIn(server, credentials)];
    const status = async (cookie: string) => (await asked(server, '/api/session', { cookie })).status;
    const first = Array.from({ length: 900 }, () => status(one.kept));
    expect(new Set(await Promise.all(first))).toEqual(new Set([200]));
    expect(await status(one.kept)).toBe(429);
    expect(await status(other.kept)).toBe(200);
  });
});

describe('a session', () => {
  it('outlives the server, and not the day', async () => {
    const opened = await openedRoom();
    const { kept } = await signIn(opened, { as: 'group', group: 'g1', code: await codeOf(opened.room) });
    const status = async (server: Pick<Opened, 'app'>) => {
      return (await asked(server, '/api/openapi.json', { cookie: kept })).status;
    };
    const again = await opened.open();
    expect(await status(again)).toBe(200);
    for (let passed = 0; passed < longestSession; passed += longestQuiet) {
      expect(await status(again)).toBe(200);
      opened.clock.pass(longestQuiet);
    }
    opened.clock.pass(1);
    expect(await status(again)).toBe(401);
  });

  it('ends when nobody is there', async () => {
    const server = await openedRoom();
    const { kept } = await signIn(server, { as: 'group', group: 'g1', code: await codeOf(server.room) });
    server.clock.pass(longestQuiet + 1);
    expect((await asked(server, '/api/openapi.json', { cookie: kept })).status).toBe(401);
  });

  it('ends by signing out, for this device alone', async () => {
    const server = await openedRoom();
    const credentials = { as: 'group', group: 'g1', code: await codeOf(server.room) };
    const [one, other] = [await signIn(server, credentials), await signIn(server, credentials)];
    const gone = await server.app.request('/api/session', {
      method: 'DELETE',
      headers: { host: 'localhost', cookie: one.kept, 'content-type': 'application/json' },
    });
    expect(gone.headers.get('set-cookie')).toMatch(/Max-Age=0/);
    expect((await asked(server, '/api/openapi.json', { cookie: one.kept })).status).toBe(401);
    expect((await asked(server, '/api/openapi.json', { cookie: other.kept })).status).toBe(200);
  });

  it('ends where the group gets a new code', async () => {
    const server = await openedRoom();
    const code = await codeOf(server.room);
    const group = await signIn(server, { as: 'group', group: 'g1', code });
    const { kept } = await signIn(server, { as: 'instructor', secret: passphrase });
    const headers = { cookie: kept };
    const renewed = await server.json('POST', '/api/room/codes', { of: { group: 'g1' } }, headers);
    expect(renewed.status).toBe(200);
    expect(await renewed.json()).toMatchObject({
      groups: [{ group: 'g1', code: await codeOf(server.room) }],
      signedIn: [{ label: 'instructor', devices: 1 }],
    });
    expect((await asked(server, '/api/openapi.json', { cookie: group.kept })).status).toBe(401);
    expect((await signIn(server, { as: 'group', group: 'g1', code })).status).toBe(401);
    const nobody = await server.json('POST', '/api/room/codes', { of: { group: '__proto__' } }, headers);
    expect(nobody.status).toBe(422);
  });
});

describe('what is kept', () => {
  it('opens to its owner alone, and holds neither passphrase nor cookie', async () => {
    const server = await openedRoom();
    const { kept } = await signIn(server, { as: 'instructor', secret: passphrase });
    for (const name of ['access.json', 'sessions.json']) {
      const path = join(server.folder, '.room', name);
      expect((await stat(path)).mode & 0o077).toBe(0);
      const text = await readFile(path, 'utf8');
      expect(text).not.toContain(passphrase);
      expect(text).not.toContain(kept.split('=')[1]);
    }
  });

  it('says what to do where it is damaged', async () => {
    const server = await openedRoom();
    await writeFile(join(server.folder, '.room', 'access.json'), '{"groups": []}');
    await expect(server.open()).rejects.toThrow('access.json is damaged. Move it away');
    await writeFile(join(server.folder, '.room', 'sessions.json'), '[{]');
  });
});

describe('what the page is told', () => {
  it('are the places that somebody may open, and the program for them', async () => {
    const server = await openedRoom();
    const access = await server.room.access();
    const page = async (headers: Record<string, string>) => (await asked(server, '/floor', headers)).text();
    const places = async (credentials: unknown) => {
      const { body, kept } = await signIn(server, credentials);
      const view: SessionView = JSON.parse(body);
      return [view.places.join(' '), await page({ cookie: kept })];
    };
    const group = { as: 'group', group: 'g1', code: await codeOf(server.room) };
    expect(await places(group)).toEqual(['add', expect.stringContaining('<title>room')]);
    expect(await places({ as: 'assistant', secret: access.assistant })).toEqual([
      'experiment add floor rig',
      expect.stringContaining('<title>page'),
    ]);
    expect(await places({ as: 'display', secret: access.display })).toEqual([
      'floor',
      expect.stringContaining('<title>page'),
    ]);
    expect(await places({ as: 'instructor', secret: passphrase })).toEqual([
      'experiment plan compare class add floor rig submissions room',
      expect.stringContaining('<title>page'),
    ]);
    expect(await page({})).toContain('<title>room');
  });
});

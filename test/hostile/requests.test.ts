import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { limitConnections } from '../../src/server/connections.ts';
import { openWorkbench } from '../../src/server/index.ts';
import { experimentText } from '../server/app.ts';
import { raw, statuses } from './raw.ts';

let folder = '';
let workbench: Awaited<ReturnType<typeof openWorkbench>>;
let port = 0;
let close: () => Promise<void>;
const logged: string[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-requests-'));
  writeFileSync(join(folder, 'experiment.yaml'), experimentText);
  workbench = await openWorkbench({
    folder,
    pageFolder: join(folder, 'none'),
    log: (text) => logged.push(text),
  });
  ({ port, close } = await workbench.listen(0));
});
afterAll(async () => {
  await close();
  await workbench.close();
  rmSync(folder, { recursive: true, force: true });
});

/** A request in the letters of RFC 9112, its connection ended behind it. */
function request(line: string, headers: readonly string[] = [], body = ''): string {
  return [line, ...headers, 'Connection: close', '', body].join('\r\n');
}
const host = () => `Host: 127.0.0.1:${port}`;
const asked = async (text: string | Uint8Array) => statuses(await raw(port, text).whole);
const body = '{"hash":"x","text":""}';
const json = 'Content-Type: application/json';

describe('names of the server (DNS rebinding)', () => {
  test('it answers to its own', async () => {
    expect(await asked(request('GET /api/experiment HTTP/1.1', [host()]))).toEqual([200]);
    expect(await asked(request('GET /api/experiment HTTP/1.1', [`Host: LocalHost:${port}`]))).toEqual([200]);
  });

  test.each([
    'evil.example',
    'localhost.',
    'localhost.evil.example',
    '127.0.0.1.',
    '127.1',
    '2130706433',
    '0x7f000001',
    '[::ffff:127.0.0.1]',
    '[::1%25lo]',
    'localhost@evil.example',
    'evil.example@localhost',
    'localhost:1:2',
    'localhost/',
    'local\thost',
    '',
  ])('it does not answer to %j', async (name) => {
    const [status, ...more] = await asked(request('GET /api/experiment HTTP/1.1', [`Host: ${name}`]));
    expect([400, 421]).toContain(status);
    expect(more).toEqual([]);
  });

  test('a name in the target or in what proxies add does not stand for the own one', async () => {
    const forwarded = ['X-Forwarded-Host: localhost', 'Forwarded: host=localhost', 'X-Host: localhost'];
    expect(
      await asked(request('GET /api/experiment HTTP/1.1', ['Host: evil.example', ...forwarded])),
    ).toEqual([421]);
    // RFC 9112, 3.2.2: the name in an absolute target goes before that in Host; both must be the own one.
    const absolute = (name: string) => `GET http://${name}/api/experiment HTTP/1.1`;
    expect(await asked(request(absolute('localhost'), ['Host: evil.example']))).not.toContain(200);
    expect(await asked(request(absolute('evil.example'), [host()]))).not.toContain(200);
  });

  test('two names, and none, are refused', async () => {
    const [two] = await asked(request('GET /api/experiment HTTP/1.1', ['Host: evil.example', host()]));
    expect(two).not.toBe(200);
    expect(await asked(request('GET /api/experiment HTTP/1.1'))).toEqual([400]);
  });
});

describe('requests that are not what they seem (RFC 9112, 6.3 and 11.2)', () => {
  const put = 'PUT /api/experiment HTTP/1.1';
  const hidden = () => request('GET /api/experiment HTTP/1.1', [host()]);

  test.each([
    ['a length and chunks', ['Content-Length: 5', 'Transfer-Encoding: chunked'], '0\r\n\r\n'],
    ['two lengths', ['Content-Length: 2', 'Content-Length: 40'], '{}'],
    ['a length that is none', ['Content-Length: +2'], '{}'],
    ['a length below zero', ['Content-Length: -2'], '{}'],
    ['a list of lengths', ['Content-Length: 2, 40'], '{}'],
    ['chunks whose size is none', ['Transfer-Encoding: chunked'], 'zz\r\n{}\r\n0\r\n\r\n'],
    ['chunks whose size has no end', ['Transfer-Encoding: chunked'], `${'f'.repeat(40)}\r\n{}`],
    ['chunks that are not the last coding', ['Transfer-Encoding: chunked, identity'], '0\r\n\r\n'],
    ['a coding that nobody knows', ['Transfer-Encoding: xchunked'], '0\r\n\r\n'],
    ['a blank before the colon', ['Content-Length : 2'], '{}'],
    ['a folded header', ['X: a', ' Content-Length: 40'], '{}'],
    ['a bare CR in a header', ['X: a\rContent-Length: 40'], '{}'],
    ['a NUL in a header', ['X: a\0b'], '{}'],
  ])('%s: nothing behind it is taken for a request', async (_, headers, text) => {
    const said = await raw(port, `${request(put, [host(), json, ...headers], text)}${hidden()}`).whole;
    expect(statuses(said)).not.toContain(200);
    expect(said).not.toContain('brass-12');
  });

  test.each([
    ['no HTTP at all', 'hello\r\n\r\n'],
    ['bytes of TLS', new Uint8Array([0x16, 3, 1, 2, 0, 1, 0, 1, 252, 3, 3])],
    ['another version', 'GET / HTTP/9.9\r\n\r\n'],
    ['HTTP/2 by prior knowledge', 'PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n'],
    ['a method that nobody knows', 'BREW /pot HTTP/1.1\r\nHost: localhost\r\n\r\n'],
    ['headers beyond measure', `GET / HTTP/1.1\r\nHost: localhost\r\nX: ${'x'.repeat(100_000)}\r\n\r\n`],
    ['an address beyond measure', `GET /${'x'.repeat(100_000)} HTTP/1.1\r\nHost: localhost\r\n\r\n`],
    ['a tunnel', 'CONNECT localhost:22 HTTP/1.1\r\nHost: localhost\r\n\r\n'],
  ])('%s is refused, and the connection ended', async (_, text) => {
    const found = statuses(await raw(port, text).whole);
    expect(found.every((status) => status >= 400 && status < 500)).toBe(true);
  });

  test('an upgrade is no way in: the request is answered as any other', async () => {
    const socket = [
      host(),
      'Upgrade: websocket',
      'Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==',
      'Sec-WebSocket-Version: 13',
    ];
    const text = ['GET /api/experiment HTTP/1.1', ...socket, 'Connection: Upgrade', '', ''].join('\r\n');
    const connection = raw(port, text);
    const said = await connection.until('brass-12');
    expect(statuses(said)).toEqual([200]);
    connection.socket.destroy();
    const h2c = [host(), 'Upgrade: h2c', 'HTTP2-Settings: AAMAAABkAAQAAP__', 'Connection: close'];
    expect(await asked(['GET /api/experiment HTTP/1.1', ...h2c, '', ''].join('\r\n'))).toEqual([200]);
  });

  test('a method in another header does not count', async () => {
    const headers = [host(), 'X-HTTP-Method-Override: PUT', json, `Content-Length: ${body.length}`];
    expect(await asked(request('POST /api/experiment HTTP/1.1', headers, body))).toEqual([404]);
  });

  test('a body of a reading request is no write', async () => {
    const headers = [host(), json, `Content-Length: ${body.length}`];
    expect(await asked(request('GET /api/experiment HTTP/1.1', headers, body))).toEqual([200]);
  });

  test('none of this is a fault of the server', () => {
    expect(logged).toEqual([]);
  });
});

describe('connections that are held', () => {
  /** A server of Node's own with short limits, looked after often. */
  async function limited(limits: Parameters<typeof limitConnections>[1]) {
    const server = createServer({ connectionsCheckingInterval: 20 }, (_, response) => response.end('here'));
    limitConnections(server, limits);
    await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
    const end = () =>
      new Promise<void>((ended) => {
        server.close(() => ended());
        server.closeAllConnections();
      });
    return { port: (server.address() as AddressInfo).port, end };
  }
  const generous = { most: 100, mostFromOne: 100, headers: 60_000, idle: 60_000 };

  test.each([
    ['no byte at all', ''],
    ['headers that never end', 'GET / HTTP/1.1\r\nHost: localhost\r\nX: 1\r\n'],
  ])('by %s are ended', async (_, text) => {
    const { port: own, end } = await limited({ ...generous, headers: 50 });
    const said = await raw(own, text).whole;
    expect(statuses(said)).toEqual([408]);
    await end();
  });

  test('are not held open long between two requests', async () => {
    const { port: own, end } = await limited({ ...generous, idle: 1 });
    const said = await raw(own, 'GET / HTTP/1.1\r\nHost: localhost\r\n\r\n').whole;
    expect(statuses(said)).toEqual([200]);
    await end();
  });

  test('from one address are counted, and given back as they end', async () => {
    const { port: own, end } = await limited({ ...generous, mostFromOne: 3 });
    const ask = 'GET / HTTP/1.1\r\nHost: localhost\r\n\r\n';
    const held = Array.from({ length: 3 }, () => raw(own, ask));
    await Promise.all(held.map((one) => one.until('here')));
    expect(await raw(own, ask).whole).toBe('');
    held[0]?.socket.destroy();
    await held[0]?.whole;
    // The server hears of the end a moment later than this side.
    await expect
      .poll(async () => {
        const next = raw(own, ask);
        const said = await next.until('here').catch(() => '');
        next.socket.destroy();
        return said;
      })
      .toContain('here');
    await end();
  });

  test('from everybody are counted', async () => {
    const { port: own, end } = await limited({ ...generous, most: 2 });
    const ask = 'GET / HTTP/1.1\r\nHost: localhost\r\n\r\n';
    const held = [raw(own, ask), raw(own, ask)];
    await Promise.all(held.map((one) => one.until('here')));
    expect(await raw(own, ask).whole).toBe('');
    await end();
  });
});

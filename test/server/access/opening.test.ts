import { X509Certificate } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ownCertificate } from '../../../src/server/access/certificate.ts';
import { isNamed, roomNames } from '../../../src/server/access/names.ts';
import { listen } from '../../../src/server/listen.ts';
import { roomOpening } from '../../../src/server/room-options.ts';
import { testServer } from '../app.ts';

const day = 86_400_000;
const now = Date.UTC(2026, 2, 2);
let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'emberline-opening-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const usual = { address: '127.0.0.1', names: [], certificate: null, proxy: null };

describe('a certificate that is made on the spot', () => {
  it('names the server, is signed by itself, and ends within what browsers take', async () => {
    const { certificate } = await ownCertificate(folder, ['lab.example.org', '192.0.2.7'], now);
    const read = new X509Certificate(certificate);
    expect(read.checkHost('lab.example.org')).toBe('lab.example.org');
    expect(read.checkIP('192.0.2.7')).toBe('192.0.2.7');
    expect(read.checkHost('other.example.org')).toBeUndefined();
    expect(read.verify(read.publicKey)).toBe(true);
    expect(read.ca).toBe(false);
    const days = (Date.parse(read.validTo) - Date.parse(read.validFrom)) / day;
    expect(days).toBeLessThanOrEqual(397);
    expect(days).toBeGreaterThan(300);
  });

  it('stays the same until it runs out or a name is new', async () => {
    const print = async (names: readonly string[], at: number) => {
      return (await ownCertificate(folder, names, at)).fingerprint;
    };
    const first = await print(['lab.example.org', '192.0.2.7'], now);
    expect(await print(['192.0.2.7'], now + 300 * day)).toBe(first);
    const later = await print(['192.0.2.7'], now + 390 * day);
    expect(later).not.toBe(first);
    expect(await print(['192.0.2.8'], now + 390 * day)).not.toBe(later);
  });
});

describe('a room', () => {
  it('shows over TLS the certificate whose fingerprint is printed', async () => {
    const opening = await roomOpening(folder, { ...usual, names: ['Lab.Example.org'] }, Date.now());
    const server = await testServer();
    const { address, certificate, reachAt } = opening;
    const { port, close } = await listen(() => server.app, { port: 0, address, certificate });
    const reach = reachAt(port);
    expect(reach).toMatchObject({ scheme: 'https', fingerprint: certificate?.fingerprint });
    expect(reach.addresses).toContain(`https://lab.example.org:${port}/`);
    const shown = await new Promise<string>((resolve, reject) => {
      const socket = connect({ port, host: '127.0.0.1', rejectUnauthorized: false }, () => {
        resolve(socket.getPeerCertificate().fingerprint256);
        socket.destroy();
      });
      socket.once('error', reject);
    });
    expect(shown).toBe(reach.fingerprint);
    await close();
    await server.remove();
  });

  it('takes a certificate from elsewhere, and none that does not fit its key', async () => {
    const one = await ownCertificate(folder, ['lab.example.org'], now);
    const opening = await roomOpening(folder, { ...usual, certificate: one }, now);
    expect(opening.reachAt(4173).fingerprint).toBe(one.fingerprint);
    const other = await ownCertificate(folder, ['other.example.org'], now);
    const mixed = { certificate: one.certificate, key: other.key };
    await expect(roomOpening(folder, { ...usual, certificate: mixed }, now)).rejects.toThrow(
      'cannot be used together',
    );
    const none = { certificate: 'x', key: 'y' };
    await expect(roomOpening(folder, { ...usual, certificate: none }, now)).rejects.toThrow(
      'cannot be used together',
    );
  });

  it('behind a proxy listens to its own machine alone, and goes by the name that people open', async () => {
    const proxy = new URL('https://lab.example.org/');
    const { address, certificate, reachAt } = await roomOpening(folder, { ...usual, proxy }, now);
    expect([address, certificate]).toEqual(['127.0.0.1', null]);
    const reach = reachAt(4173);
    expect(reach).toMatchObject({ scheme: 'https', addresses: ['https://lab.example.org/'] });
    const server = await testServer({ reach });
    const status = async (headers: Record<string, string>) => {
      const address = `http://${headers['host']}/api/experiment/change`;
      return (await server.json('POST', address, {}, headers)).status;
    };
    const host = 'lab.example.org';
    expect(await status({ host, origin: 'https://lab.example.org' })).toBe(400);
    expect(await status({ host, origin: 'http://lab.example.org' })).toBe(403);
    expect(await status({ host: 'localhost:4173' })).toBe(421);
    await server.remove();
  });
});

describe('the names of a server', () => {
  it.each(['lab.example.org', 'LAB.example.org:4173', '[::1]:80', '192.0.2.7:1'])('hold %s', (host) => {
    expect(isNamed(host, new Set(['lab.example.org', '[::1]', '192.0.2.7']))).toBe(true);
  });

  it.each(['', 'lab.example.org.', 'lab.example.org:', 'a@lab.example.org', 'lab.example.org:1:2', 'x'])(
    'do not hold "%s"',
    (host) => {
      expect(isNamed(host, new Set(['lab.example.org']))).toBe(false);
    },
  );

  it('are those that were said, those of the machine, and its own', () => {
    const names = roomNames('192.0.2.7', ['Lab.example.org']);
    expect(names.at(0)).toBe('lab.example.org');
    expect(names).toContain('192.0.2.7');
    expect(names.slice(-2)).toEqual(['localhost', '127.0.0.1']);
    expect(names.every((name) => name === name.toLowerCase())).toBe(true);
  });
});

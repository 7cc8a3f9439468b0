import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { buildPath, experimentSchema, parseChecked, staysInside } from '../../src/experiment/index.ts';
import { kept, upload } from '../../src/server/contract/index.ts';
import { folderRecordings, type OpenRecordings } from '../../src/server/folder-recordings.ts';
import { runCommand } from '../cli/run.ts';
import { experimentText, testServer } from '../server/app.ts';
import { decayText } from './recording.ts';

const secret = 'secret of Thornwick';
const path = 'recordings/g1/brass-12_60-1.txt';

let root = '';
let folder = '';
let recordings: OpenRecordings;
let server: Awaited<ReturnType<typeof testServer>>;

beforeEach(async () => {
  root = mkdtempSync(join(tmpdir(), 'emberline-names-'));
  folder = join(root, 'course');
  mkdirSync(join(folder, 'recordings', 'g1'), { recursive: true });
  writeFileSync(join(root, 'secret.txt'), secret);
  writeFileSync(join(folder, 'private.txt'), secret);
  writeFileSync(join(folder, 'experiment.yaml'), experimentText);
  writeFileSync(join(folder, path), decayText());
  recordings = await folderRecordings(folder, () => undefined);
  server = await testServer({ folder, recordings, submissions: recordings.submissions });
});
afterEach(async () => {
  await recordings.close();
  await server.remove();
  rmSync(root, { recursive: true, force: true });
});

/** Every file below the root, by its path; without what is worked out meanwhile of the recording that is there. */
function files(): string[] {
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile())
    .map((one) => relative(root, join(one.parentPath, one.name)))
    .filter((one) => !/^course\/results\/recordings\/g1\/\.?brass-[\w.-]+$/.test(one))
    .sort();
}

/** Those that a request may have added: hexadecimal names of files that wait, the trail, and recordings that fit the pattern. */
const allowed =
  /^course\/(?:\.uploads\/[0-9a-f]{32}\.[a-z]+|trail\/[\w.-]+|recordings\/g1\/brass-(?:12|20)_(?:60|120)-\d{1,2}\.[a-z.]+|submissions\/(?:g1|together)\/[A-Za-z0-9_-]+\.(?:csv|txt|tsv|xlsx)|decisions\/recordings\/g1\/[\w.-]+)$/;

/** Names as a hostile sender, another system or an odd keyboard gives them. */
const names = [
  '..',
  '../../secret.txt',
  '../recordings/g1/brass-12_60-1.txt',
  '/etc/passwd',
  'C:\\Windows\\win.ini',
  '\\\\host\\share\\x.txt',
  '..\\..\\secret.txt',
  '....//....//secret.txt',
  '%2e%2e%2fsecret.txt',
  '..%252f..%252fsecret.txt',
  '\u2025/secret.txt',
  '.\u2024/secret.txt',
  '\uff0e\uff0e\uff0fsecret.txt',
  'brass-12_60-9.txt\0.exe',
  'brass-12_60-9.txt::$DATA',
  'brass-12_60-9.txt:hidden.txt',
  'brass-12_60-9.txt.',
  'brass-12_60-9.txt ',
  'brass-12_60-9.TXT',
  'BRASS-12_60-9.txt',
  'con',
  'NUL.txt',
  'com1.csv',
  'aux.tar.gz',
  '.experiment.yaml',
  '.htaccess',
  'experiment.yaml',
  '-rf',
  '~/x.txt',
  '$(touch x).txt',
  'a\nb\tc.txt',
  '\u202etxt.exe',
  '\ud800.txt',
  'u\u0308ber.txt',
  `${'x'.repeat(290)}.txt`,
  '__proto__',
];

/** A name as part of an address, which holds no halves of characters. */
const inAddress = (name: string) => encodeURIComponent(Buffer.from(name, 'utf8').toString('utf8'));

describe('names of files that are handed over', () => {
  const place = { group: 'g1', body: 'brass-20', flow: '60', repeat: 1 };
  const inBase64 = (text: string) => Buffer.from(text, 'utf8').toString('base64');

  test.each(names)('%j leads nowhere, by whichever door it comes', async (name) => {
    const before = files();
    const text = decayText(3);
    const plain = await server.app.request(`/api/uploads?name=${inAddress(name)}`, {
      method: 'POST',
      body: text,
    });
    const { id } = upload.parse(await plain.json());
    const answer = await server.json('POST', `/api/uploads/${id}/keep`, { place });
    // The name gives the ending at most.
    expect(kept.parse(await answer.json()).path).toMatch(
      /^recordings\/g1\/brass-20_60-1\.(?:txt|csv)(?:\.gz)?$/,
    );

    const begun = await server.app.request('/api/transfers', {
      method: 'POST',
      headers: {
        'tus-resumable': '1.0.0',
        'upload-length': '5',
        'upload-metadata': `filename ${inBase64(name)}`,
      },
    });
    expect(begun.status).toBe(201);
    expect(begun.headers.get('location')).toMatch(/^\/api\/transfers\/[0-9a-f]{32}$/);

    for (const said of ['', '?group=g1&body=brass-20&flow=120&repeat=2']) {
      const address = `/api/handed-in/${inAddress(name)}${said}`;
      const put = await server.app.request(address, { method: 'PUT', body: decayText(4) });
      expect(put.status, address).toBeLessThan(500);
      expect(await put.text()).not.toContain(root);
    }
    const added = files().filter((one) => !before.includes(one));
    expect(added.filter((one) => !allowed.test(one))).toEqual([]);
    expect(readFileSync(join(folder, path), 'utf8')).toBe(decayText());
    expect(server.logged).toEqual([]);
  });

  test('stand in the trail as one line a deed, whatever they hold, and the trail stays whole', async () => {
    for (const [i, name] of ['a\nb\tc.txt', '\u202ex.txt', '=1+1.txt', '\r\n7\tx'].entries()) {
      const taken = await server.app.request(`/api/uploads?name=${encodeURIComponent(name)}`, {
        method: 'POST',
        body: decayText(10 + i),
      });
      const { id } = upload.parse(await taken.json());
      await server.json('POST', `/api/uploads/${id}/keep`, { place: { ...place, repeat: i + 1 } });
    }
    const [day = ''] = readdirSync(join(folder, 'trail')).filter((one) => one.endsWith('.tsv'));
    const lines = readFileSync(join(folder, 'trail', day), 'utf8')
      .trimEnd()
      .split('\n');
    expect(lines).toHaveLength(5);
    expect(new Set(lines.map((line) => line.split('\t').length))).toEqual(new Set([10]));
    expect((await runCommand(['verify', folder])).stdout).not.toMatch(/broken|changed/);
  });

  test.each(['', 'x'.repeat(301)])('without letters or beyond measure are refused (%#)', async (name) => {
    const taken = await server.app.request(`/api/uploads?name=${name}`, { method: 'POST', body: '1' });
    expect(taken.status).toBe(400);
    const put = await server.app.request(`/api/handed-in/${name}`, { method: 'PUT', body: '1' });
    expect([400, 404, 405, 415]).toContain(put.status);
  });

  test('in other capitals or with another ending are the same place, which is taken', async () => {
    for (const name of ['x.TXT', 'x.csv', 'x.Csv.GZ']) {
      const put = await server.app.request(`/api/handed-in/${name}?group=g1&body=brass-12&flow=60&repeat=1`, {
        method: 'PUT',
        body: decayText(5),
      });
      expect(put.status).toBe(409);
    }
  });
});

describe('codes', () => {
  /** What no system, or not every system, takes for the name of a folder, and what looks like another code. */
  const codes = [
    '..',
    'a/b',
    'a\\b',
    'a:b',
    'a\0',
    'a ',
    'a.',
    'con',
    'NUL',
    'aux.1',
    'lpt9.x',
    '-rf',
    'a*',
    '\uff4131',
    'e\u0301',
    '\u00e9',
    '\u202ea',
    '__proto__',
    'constructor',
    'x'.repeat(41),
  ];
  const faultsOf = (text: string) => {
    const checked = parseChecked(text, experimentSchema);
    return checked.ok ? [] : checked.faults;
  };

  test.each(codes)('%j is none in the experiment file', (code) => {
    const quoted = JSON.stringify(code);
    for (const line of [
      `bodies: { ${quoted}: { diameter: 12 mm, material: brass } }`,
      `flows: { ${quoted}: 60 L/min }`,
      `groups: { ${quoted}: {} }`,
      `benches: [${quoted}]`,
      `sections: [${quoted}]`,
    ]) {
      expect(faultsOf(line), line).not.toEqual([]);
    }
  });

  test.each([...codes, 'G1', 'Brass-12', '%67%31', 'g1\u200b', '\uff471'])(
    '%j in a request is no code of the experiment',
    async (code) => {
      const before = files();
      for (const said of [
        { group: code, body: 'brass-12', flow: '60' },
        { group: 'g1', body: code, flow: '60' },
        { group: 'g1', body: 'brass-12', flow: code },
      ]) {
        const query = new URLSearchParams({ ...said, repeat: '7' });
        const put = await server.app.request(`/api/handed-in/x.txt?${query}`, {
          method: 'PUT',
          body: decayText(6),
        });
        expect(put.status).toBe(422);
      }
      const part = encodeURIComponent(code);
      const typed = await server.json('POST', `/api/submissions/${part}`, { rows: [] });
      expect(typed.status).toBeGreaterThanOrEqual(400);
      expect(typed.status).toBeLessThan(500);
      expect(files()).toEqual(before);
      expect(server.logged).toEqual([]);
    },
  );
});

describe('groups of sheets', () => {
  const take = (group: string) =>
    server.app.request(`/api/sheets?name=a.csv&group=${encodeURIComponent(group)}`, {
      method: 'POST',
      body: 'recording,point\nx,4\n',
    });

  test.each(['..', 'a/b', 'a\\b', 'a:b', 'a\0', 'a.', 'con', 'NUL', 'aux.1', '-rf', '\u00e9', '__proto__'])(
    '%j would be no folder on every system, and is refused',
    async (group) => {
      const before = files();
      expect((await take(group)).status).toBe(422);
      expect(files()).toEqual(before);
    },
  );

  test('in other capitals are the one of the experiment file', async () => {
    expect((await take('G1')).status).toBe(200);
    expect(readdirSync(join(folder, 'submissions'))).toEqual(['g1']);
  });
});

describe('the pattern of recordings', () => {
  test.each([
    '../{body}_{flow}',
    '/etc/{body}_{flow}',
    'C:/x/{body}_{flow}',
    'a/../../{body}_{flow}',
    'a/./{body}_{flow}',
    'a//{body}_{flow}',
    'a\\{body}_{flow}',
    'a\0/{body}_{flow}',
    '.room/{body}_{flow}',
    'nul/{body}_{flow}',
    'a /{body}_{flow}',
    'a./{body}_{flow}',
    'x:y/{body}_{flow}',
    `${'a/'.repeat(20)}{body}_{flow}`,
    `${'a'.repeat(500)}/{body}_{flow}`,
    'a\u202e\n/{body}_{flow}',
  ])('%j writes nowhere', (pattern) => {
    const text = experimentText.replace(/recordings:.*/, `recordings: ${JSON.stringify(pattern)}`);
    const checked = parseChecked(text, experimentSchema);
    const built = checked.ok
      ? buildPath(checked.value, { body: 'brass-12', flow: '60' }, '.txt')
      : { ok: false };
    expect(built.ok).toBe(false);
  });

  // Superscripts: Windows takes them for digits of a port (Microsoft, Naming Files, Paths, and Namespaces; from memory).
  test.each(['com\u00b9', 'LPT\u00b3.txt', 'con .txt', 'CONIN$', 'conout$.log', 'nul'])(
    'a part that is called %j is a device of Windows, and refused',
    (part) => {
      expect(staysInside(`recordings/${part}/x.txt`, 8)).toBe(false);
    },
  );
});

describe('recordings by their address', () => {
  const addresses = [
    '..%2f..%2fsecret.txt',
    'recordings%2f..%2fprivate.txt',
    'recordings/g1/..%2f..%2fprivate.txt',
    'private.txt',
    'experiment.yaml',
    'recordings/g1/..%5c..%5cprivate.txt',
    '%2fetc%2fpasswd',
    'recordings/g1/%2e%2e%2f%2e%2e%2fprivate.txt',
    'recordings/g1/..%252f..%252fprivate.txt',
    'recordings/g1/%c0%ae%c0%ae%c0%afprivate.txt',
    `${path}%00.txt`,
    `${path}.`,
    `${path}%20`,
    `${path}::$DATA`,
    'recordings/g1/BRASS-12_60-1.txt',
    'recordings%5cg1%5cbrass-12_60-1.txt',
    'recordings//g1/brass-12_60-1.txt',
    'recordings/g1/br\u0430ss-12_60-1.txt',
    'recordings/g1/\uff42rass-12_60-1.txt',
    `recordings/${'x'.repeat(900)}`,
    'x'.repeat(5000),
    '__proto__',
    '.room/access.json',
  ];
  const read = { options: null };
  const decision = { kind: 'reject', who: 'Ada', why: 'the door stood open' };

  test.each(addresses)('%s is none of the list', async (address) => {
    const before = files();
    const at = `/api/recordings/${address}`;
    const answers = [
      await server.app.request(`${at}/analysis`),
      await server.app.request(`${at}/steps`),
      await server.app.request(`${at}/readings?from=0&to=9&points=100`),
      await server.json('POST', `${at}/reading`, read),
      await server.json('POST', `${at}/decisions`, decision),
      await server.app.request(`/api/documents/trial?format=html&recording=${address}`),
      await server.app.request(`/api/exports/cooling?format=csv&recording=${address}`),
    ];
    for (const answer of answers) {
      expect(answer.status).toBeGreaterThanOrEqual(400);
      expect(answer.status).toBeLessThan(500);
      const text = await answer.text();
      expect(text).not.toContain(secret);
      expect(text).not.toContain(root);
    }
    expect(files()).toEqual(before);
    expect(server.logged).toEqual([]);
  });
});

describe('sheets', () => {
  test.each(names.filter((name) => !name.includes('\ud800')))(
    'called %j are kept in their own folder or not at all',
    async (name) => {
      const before = files();
      const answer = await server.app.request(`/api/sheets?name=${encodeURIComponent(name)}&group=g1`, {
        method: 'POST',
        body: 'recording,point\nx,4\n',
      });
      // What is no sheet by its ending is not kept, and said so.
      expect([200, 415]).toContain(answer.status);
      const added = files().filter((one) => !before.includes(one));
      expect(added.filter((one) => !allowed.test(one))).toEqual([]);
      expect(server.logged).toEqual([]);
    },
  );

  test.each([
    '../../secret.txt',
    '/etc/passwd',
    '..\\..\\secret.txt',
    `${path}\0`,
    '__proto__',
    'private.txt',
  ])('that name the recording %j read nothing', async (recording) => {
    const row = { recording, note: '', values: { point: '4' } };
    const answer = await server.json('POST', '/api/submissions/g1', { rows: [row] });
    expect(answer.status).toBeLessThan(500);
    expect(await answer.text()).not.toContain(secret);
    expect(server.logged).toEqual([]);
  });
});

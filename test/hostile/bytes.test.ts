import { appendFileSync, mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readRecordingFile } from '../../src/recording/files.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { readExperiment } from '../../src/store/index.ts';
import { sheetCells } from '../../src/store/submission-cells.ts';
import { experimentText, testServer } from '../server/app.ts';
import { decayText } from './recording.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-bytes-'));
let server: Awaited<ReturnType<typeof testServer>>;
beforeAll(async () => {
  server = await testServer();
});
afterAll(async () => {
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

const path = join(folder, 'recording.txt');
async function read(bytes: Uint8Array | string): Promise<unknown> {
  writeFileSync(path, bytes);
  return readRecordingFile(path).catch((error: unknown) => error);
}
const latin = (text: string) => Buffer.from(text, 'latin1');

describe('recordings', () => {
  test('of gigabytes without an end of line are refused at once, not read to their end', async () => {
    // A hole in the file takes no room on the disk, and is read as NUL, which is padding: digits stand before it.
    writeFileSync(path, '7'.repeat(300_000));
    const seen: number[] = [];
    truncateSync(path, 4 * 2 ** 30);
    const refused = await readRecordingFile(path, {}, (bytes) => seen.push(bytes)).catch(
      (error: unknown) => error,
    );
    expect(refused).toMatchObject({ code: 'line-too-long' });
    expect(seen.at(-1)).toBeLessThan(16 << 20);
  });

  test('whose table runs into a line without end are refused there', async () => {
    writeFileSync(path, decayText());
    appendFileSync(path, '7'.repeat(4 << 20));
    expect(await readRecordingFile(path).catch((error: unknown) => error)).toMatchObject({
      code: 'line-too-long',
      line: 1202,
    });
  });

  test('with thousands of columns are read or refused', async () => {
    const row = (i: number) => Array.from({ length: 8000 }, (_, k) => (k === 0 ? i / 10 : 20)).join(';');
    const found = await read(Array.from({ length: 100 }, (_, i) => row(i)).join('\n'));
    expect(found).toHaveProperty('name');
    expect(JSON.stringify(found).length).toBeLessThan(5_000_000);
  });

  test.each([
    ['UTF-8', decayText()],
    ['UTF-16', Buffer.from(`\uFEFF${decayText()}`, 'utf16le')],
    ['NUL between and behind', latin(decayText().replaceAll('\n', '\0\n') + '\0'.repeat(5000))],
    ['invalid UTF-8 in its names', latin(decayText().replace('Sphere', 'Sph\xffre\xc0\xaf'))],
    [
      'half a pair of UTF-16',
      Buffer.from(`\uFEFF${decayText().replace('Sphere', 'Sph\ud800ere')}`, 'utf16le'),
    ],
    ['two marks of byte order', Buffer.concat([latin('\xef\xbb\xbf\xef\xbb\xbf'), latin(decayText())])],
    ['a mark of byte order within', decayText().replace('\n', '\n\uFEFF')],
    ['three kinds of line ends', decayText().replace('\n', '\r\n').replace('\n0.2', '\r0.2')],
  ])('in %s say the same', async (_, bytes) => {
    expect(await read(bytes)).toMatchObject({ samples: 1200, rate: 10, channel: { unit: 'degC' } });
  });

  test.each([
    ['UTF-16 said, UTF-8 written', Buffer.concat([latin('\xff\xfe'), latin(decayText())])],
    ['nothing but NUL', Buffer.alloc(100_000)],
    ['nothing but marks of byte order', latin('\xff\xfe'.repeat(5000))],
    [
      'control characters',
      latin(Array.from({ length: 9000 }, (_, i) => String.fromCharCode(i % 32)).join('')),
    ],
  ])('that hold %s are refused in words', async (_, bytes) => {
    const refused = await read(bytes);
    expect(refused).toBeInstanceOf(RecordingError);
    expect(refused).toMatchObject({ mend: expect.stringMatching(/\.$/) });
  });
});

describe('sheets', () => {
  test.each([
    ['NUL', 'recording,point\na\0,1\n'],
    ['nothing but NUL', '\0'.repeat(1000)],
  ])('with %s are refused in words', async (_, text) => {
    expect(await sheetCells(Buffer.from(text))).toHaveProperty('message');
  });

  test('with lines, cells and rows without end stay within bounds', async () => {
    for (const text of [
      'x'.repeat(5e6),
      ','.repeat(5e6),
      '"'.repeat(5e6),
      '\n'.repeat(5e6),
      'a\n'.repeat(2e6),
    ]) {
      const found = await sheetCells(Buffer.from(text));
      expect(JSON.stringify(found).length).toBeLessThan(100_000);
    }
  });

  test('in invalid UTF-8 or with marks of byte order within are read', async () => {
    for (const bytes of [latin('recording,point\nx\xff,1\n'), Buffer.from('recording,point\n\uFEFFx,1\n')]) {
      expect(await sheetCells(bytes)).toMatchObject({ rows: [{ line: 1 }, { line: 2 }] });
    }
  });
});

describe('experiment files', () => {
  test.each([
    ['NUL', Buffer.from(`${experimentText}course: a\0b\n`)],
    ['invalid UTF-8', latin(`${experimentText}course: \xff\n`)],
    ['UTF-16', Buffer.from(experimentText, 'utf16le')],
    ['one line beyond measure', Buffer.from(`course: ${'x'.repeat(2e6)}`)],
  ])('with %s are refused in words', async (_, bytes) => {
    writeFileSync(join(folder, 'experiment.yaml'), bytes);
    await expect(readExperiment(folder)).rejects.toThrow(/experiment\.yaml, line \d+: .{10}/);
  });
});

describe('requests', () => {
  const id = '0'.repeat(32);
  test.each([
    ['NUL in a body', 'POST', `/api/uploads/${id}/read`, '{"options":{"channel":"a\0b"}}'],
    ['an escaped NUL in a body', 'POST', `/api/uploads/${id}/read`, '{"options":{"channel":"a\\u0000b"}}'],
    ['half a pair in a body', 'POST', `/api/uploads/${id}/read`, '{"options":{"channel":"\\ud800"}}'],
    ['a mark of byte order before a body', 'POST', `/api/uploads/${id}/read`, '\uFEFF{"options":{}}'],
    ['NUL in a query', 'GET', '/api/documents/trial?recording=%00&format=html', undefined],
    ['invalid UTF-8 in a query', 'GET', '/api/documents/trial?recording=%ff%fe&format=html', undefined],
    ['half a pair in a query', 'GET', '/api/documents/trial?recording=%ed%a0%80&format=html', undefined],
    ['percent signs that mean nothing', 'GET', '/api/documents/trial?recording=%zz%&format=html', undefined],
    [
      'a number beyond measure',
      'GET',
      '/api/recordings/a.txt/readings?from=-1e999&to=1e999&points=1e9',
      undefined,
    ],
    ['a number that is none', 'GET', '/api/recordings/a.txt/readings?from=NaN&to=0x10&points=', undefined],
  ])('with %s are answered as ones that cannot be met', async (_, method, address, body) => {
    const answer = await server.app.request(address, {
      method,
      ...(body === undefined ? {} : { body, headers: { 'content-type': 'application/json' } }),
    });
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.status).toBeLessThan(500);
    expect(server.logged).toEqual([]);
  });

  test('with bytes that are no UTF-8 in their JSON are no fault of the server', async () => {
    const body = new Uint8Array([...latin('{"options":{"channel":"'), 0xff, 0xfe, ...latin('"}}')]);
    const headers = { 'content-type': 'application/json' };
    const answer = await server.app.request(`/api/uploads/${id}/read`, { method: 'POST', body, headers });
    expect(answer.status).toBe(404);
  });
});

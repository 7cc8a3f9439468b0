import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import readXlsxFile from 'read-excel-file/node';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { problem, remarksHeader } from '../../src/server/contract/index.ts';
import { contentDisposition } from '../../src/server/file-response.ts';
import { pagesOf } from '../report/pages.ts';
import { testServer } from './app.ts';

const recording = 'recordings/A/A1/bare-junction_120-1.txt';
const unread = 'recordings/A/A1/brass-12_60-1.txt';
const folder = mkdtempSync(join(tmpdir(), 'emberline-downloads-'));
let server: Awaited<ReturnType<typeof testServer>>;

beforeAll(async () => {
  for (const path of ['experiment.yaml', recording]) cpSync(join('demo/thornwick', path), join(folder, path));
  writeFileSync(join(folder, unread), 'battery low\nplease charge\n');
  server = await testServer({ folder });
});
afterAll(async () => {
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

const get = (path: string, headers: Record<string, string> = {}) =>
  server.app.request(`/api/${path}`, { headers });

async function file(path: string) {
  const response = await get(path);
  const bytes = new Uint8Array(await response.arrayBuffer());
  expect(response.status, `${Buffer.from(bytes).toString('utf8').slice(0, 500)} ${server.logged}`).toBe(200);
  expect(response.headers.get('content-length')).toBe(String(bytes.length));
  const name = /filename="([^"]+)"/.exec(response.headers.get('content-disposition') ?? '')?.[1];
  return { bytes, name, type: response.headers.get('content-type'), response };
}

const text = (bytes: Uint8Array) => Buffer.from(bytes).toString('utf8');

describe('documents', () => {
  it.each([
    [`trial?recording=${recording}`, 'trial-A-A1-bare-junction_120-1', 'Time constant'],
    [`worked?recording=${recording}`, 'worked-A-A1-bare-junction_120-1', 'worked through'],
    ['group?group=A1&pages=true', 'group-A1', 'Group A1'],
    ['class?', 'class', 'look again'],
    ['class?section=A', 'section-A', 'look again'],
    ['bench-sheet?', 'bench-sheet', 'Group code'],
  ])('%s as PDF and HTML, the same bytes again', async (path, name, words) => {
    const pdf = await file(`documents/${path}&format=pdf`);
    expect(pdf).toMatchObject({ name: `${name}.pdf`, type: 'application/pdf' });
    expect(text(pdf.bytes.subarray(0, 5))).toBe('%PDF-');
    expect((await pagesOf(pdf.bytes)).join(' ')).toContain(words);
    expect((await file(`documents/${path}&format=pdf`)).bytes).toEqual(pdf.bytes);
    const html = await file(`documents/${path}&format=html`);
    expect(html).toMatchObject({ name: `${name}.html`, type: 'text/html; charset=utf-8' });
    expect(text(html.bytes)).toMatch(/^<!doctype html>/);
    expect(text(html.bytes)).not.toContain(folder);
  });

  it('on the paper that is asked for (ISO 216; US Letter is 612 points wide)', async () => {
    const width = async (paper: string) => {
      const { bytes } = await file(`documents/bench-sheet?format=pdf&paper=${paper}`);
      return Number(/\/MediaBox\s*\[\s*0 0 ([\d.]+)/.exec(Buffer.from(bytes).toString('latin1'))?.[1]);
    };
    expect(await width('a4')).toBeCloseTo((210 / 25.4) * 72, 0);
    expect(await width('letter')).toBeCloseTo(612, 0);
  });

  it('a briefing as slides, with what could not be used of the own words', async () => {
    mkdirSync(join(folder, 'briefing'));
    writeFileSync(join(folder, 'briefing', 'nowhere.md'), 'My own words.\n');
    const { bytes, name, response } = await file('documents/briefing?format=slides');
    expect(name).toBe('briefing-slides.html');
    expect(text(bytes)).toContain('class="slide"');
    const said: unknown = JSON.parse(decodeURIComponent(response.headers.get(remarksHeader) ?? ''));
    expect(said).toContainEqual(expect.stringContaining('briefing/nowhere.md belongs to no part'));
  });
});

describe('exports', () => {
  it('results in every format, and all of them described in a ZIP archive', async () => {
    const csv = await file('exports/results?format=csv');
    expect(text(csv.bytes).trim().split('\r\n')).toHaveLength(3);
    const { trials } = JSON.parse(text((await file('exports/results?format=json')).bytes));
    expect(trials).toHaveLength(2);
    const { bytes, name, type } = await file('exports/results?format=package');
    expect(name).toMatch(/^results-[\w-]+\.zip$/);
    expect(type).toBe('application/zip');
    const files = unzipSync(bytes);
    const described: { resources: { path: string; bytes: number }[] } = JSON.parse(
      text(files['datapackage.json'] ?? new Uint8Array()),
    );
    for (const one of described.resources) expect(files[one.path]?.length).toBe(one.bytes);
    expect(text(files['results.csv'] ?? new Uint8Array())).toBe(text(csv.bytes));
    expect(text(files['results.parquet']?.subarray(0, 4) ?? new Uint8Array())).toBe('PAR1');
    expect((await file('exports/results?format=package')).bytes).toEqual(bytes);
  });

  it('a cooling in rows that say of how many readings they are the mean', async () => {
    const { bytes, response } = await file(`exports/cooling?recording=${recording}&format=csv`);
    const [head, ...rows] = text(bytes).trim().split('\r\n');
    expect(head).toBe('time_s,temperature_degC,error_fraction,ln_error_fraction,readings');
    const cells = rows.map((row) => row.split(',').map(Number));
    // The whole cooling is there: rows follow each other, and the error fraction is what its name says.
    for (const [i, [time = 0, , fraction = 0, log]] of cells.entries()) {
      if (i > 0) expect(time).toBeGreaterThan(cells[i - 1]?.[0] ?? 0);
      if (fraction > 0) expect(log).toBeCloseTo(Math.log(fraction), 4);
    }
    const usual = cells[0]?.[4];
    const said = decodeURIComponent(response.headers.get(remarksHeader) ?? '');
    expect(said).toContain(usual === 1 ? 'single reading' : `mean of ${usual} readings`);
    const book = await file(`exports/cooling?recording=${recording}&format=xlsx`);
    const [sheet] = await readXlsxFile(Buffer.from(book.bytes));
    expect(sheet?.data).toHaveLength(rows.length + 1);
  });

  it('the figure of a recording', async () => {
    const svg = await file(`exports/figure?recording=${recording}&format=svg`);
    expect(text(svg.bytes)).toMatch(/^<svg /);
    const png = await file(`exports/figure?recording=${recording}&format=png`);
    // PNG signature, W3C PNG 5.2.
    expect([...png.bytes.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
  });
});

describe('what cannot be made', () => {
  const refused = async (path: string, headers: Record<string, string> = {}) => {
    const response = await get(path, headers);
    const body = problem.parse(await response.json());
    expect(response.status).toBe(body.status);
    expect(body.detail).not.toContain(folder);
    return body;
  };

  it.each([
    ['documents/trial?format=pdf', 400],
    [`documents/trial?recording=${recording}&format=docx`, 400],
    [`documents/trial?recording=${recording}&format=slides`, 400],
    [`documents/trial?recording=${recording}&format=pdf&paper=a0`, 400],
    ['documents/trial?recording=..%2f..%2fetc%2fpasswd&format=pdf', 404],
    ['documents/worked?recording=%00&format=html', 404],
    ['documents/briefing?example=experiment.yaml&format=slides', 404],
    [`documents/trial?recording=${unread}&format=pdf`, 422],
    ['documents/group?group=..%2fA1&format=pdf', 400],
    ['documents/group?group=__proto__&format=pdf', 400],
    [`exports/cooling?recording=${unread}&format=csv`, 422],
    ['exports/cooling?recording=%2fetc%2fpasswd&format=csv', 404],
    ['exports/results?format=names', 400],
  ])('%s is %i', async (path, status) => {
    expect((await refused(path)).status).toBe(status);
  });

  it('is everything, for pages of other sites', async () => {
    expect((await refused('exports/results?format=csv', { 'sec-fetch-site': 'cross-site' })).status).toBe(
      403,
    );
    const own = await get('documents/trial?recording=none&format=pdf', { 'sec-fetch-site': 'same-origin' });
    expect(own.status).toBe(404);
  });
});

describe('names of files in answers', () => {
  it.each([
    // RFC 8187, 3.2.3: "£ and € rates" is %c2%a3%20and%20%e2%82%ac%20rates, capitals or not.
    ['£ and € rates', '%C2%A3%20and%20%E2%82%AC%20rates'],
    ["it's (1)*.pdf", '%27s%20%281%29%2A.pdf'],
    ['Größe.pdf', 'Gr%C3%B6%C3%9Fe.pdf'],
  ])('%s', (name, written) => {
    expect(contentDisposition(name)).toContain(written);
  });

  it.each(['a"b\r\nset-cookie: x=1.pdf', 'a\\";x="b', '\u202Efdp.exe', 'ключ.pdf'])(
    'hold nothing that ends the header: %j',
    (name) => {
      // RFC 6266, 4.1: one quoted-string, one ext-value, no other parameter.
      expect(contentDisposition(name)).toMatch(
        /^attachment; filename="[A-Za-z0-9._-]*"; filename\*=UTF-8''[A-Za-z0-9._~!%-]*$/,
      );
    },
  );
});

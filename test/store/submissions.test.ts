import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import writeExcelFile from 'write-excel-file/node';
import { readSheet } from '../../src/marking/index.ts';
import { findSubmissions, keepSubmission, readSubmission, StoreError } from '../../src/store/index.ts';
import { type ZipPart, zipOf } from './zip.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-submissions-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function put(path: string, content: string | Uint8Array, at?: string): void {
  const whole = join(folder, 'submissions', path);
  mkdirSync(join(whole, '..'), { recursive: true });
  writeFileSync(whole, content);
  if (at !== undefined) utimesSync(whole, new Date(at), new Date(at));
}

const sheet = 'group,recording,tau origin / s\nA1,x.txt,41.3\n';
const at = '2026-03-02T13:40:00.000Z';

describe('what lies below submissions/', () => {
  test('is listed by the moment in its name, else by when it was changed last', async () => {
    put('A1.csv', sheet, '2026-03-04T00:00:00Z');
    put('A2/second.xlsx', sheet, '2026-03-03T00:00:00Z');
    // Changed later, but taken first.
    put('A1/2026-03-02T13-40-00-000Z-own.csv', sheet, '2026-03-09T00:00:00Z');
    put('together/2026-03-05T13-40-00-000Z.csv', sheet);
    const { files, faults } = await findSubmissions(folder);
    expect(faults).toEqual([]);
    expect(files).toEqual([
      { path: 'submissions/A1/2026-03-02T13-40-00-000Z-own.csv', at, named: 'A1' },
      { path: 'submissions/A2/second.xlsx', at: '2026-03-03T00:00:00.000Z', named: 'A2' },
      { path: 'submissions/A1.csv', at: '2026-03-04T00:00:00.000Z', named: 'A1' },
      {
        path: 'submissions/together/2026-03-05T13-40-00-000Z.csv',
        at: '2026-03-05T13:40:00.000Z',
        named: null,
      },
    ]);
  });

  test('is nothing without the folder', async () => {
    expect(await findSubmissions(folder)).toEqual({ files: [], faults: [] });
  });

  test('does not lead out of the folder, and what is no sheet is named', async () => {
    const secret = join(folder, 'secret.csv');
    writeFileSync(secret, sheet);
    put('A1/report.pdf', '%PDF');
    put('A1/.hidden.csv', sheet);
    put('A1/~$open.xlsx', sheet);
    put('a/b/c/d/deep.csv', sheet);
    symlinkSync(secret, join(folder, 'submissions', 'linked.csv'));
    const { files, faults } = await findSubmissions(folder);
    expect(files).toEqual([]);
    expect(faults.toSorted()).toMatchObject([
      expect.stringContaining('submissions/A1/report.pdf is no sheet'),
      expect.stringContaining('submissions/a/b/c/d lies too deep'),
      expect.stringContaining('submissions/linked.csv is no plain file'),
    ]);
    expect(await readSubmission(folder, 'submissions/linked.csv')).toMatchObject({
      message: expect.stringContaining('no plain file'),
    });
    await expect(readSubmission(folder, '../secret.csv')).rejects.toThrow(RangeError);
  });
});

describe('a sheet that is handed in', () => {
  const bytes = new TextEncoder().encode(sheet);

  test('is kept byte for byte under its moment, and nothing is written over', async () => {
    const first = await keepSubmission(folder, { name: 'my sheet.csv', bytes, group: 'A1', at });
    expect(first).toBe('submissions/A1/2026-03-02T13-40-00-000Z-my-sheet.csv');
    expect(readFileSync(join(folder, first), 'utf8')).toBe(sheet);
    const later = { name: 'my sheet.csv', bytes: new TextEncoder().encode(`${sheet}\n`), group: 'A1' };
    await expect(keepSubmission(folder, { ...later, at })).rejects.toThrow(StoreError);
    const second = await keepSubmission(folder, { ...later, at: '2026-03-02T13:41:00.000Z' });
    expect(readdirSync(join(folder, 'submissions', 'A1')).toSorted()).toEqual([
      first.split('/').at(-1),
      second.split('/').at(-1),
    ]);
  });

  test('is kept once where the latest one is the same', async () => {
    const first = await keepSubmission(folder, { name: 'a.csv', bytes, group: 'A1', at });
    const again = await keepSubmission(folder, {
      name: 'b.csv',
      bytes,
      group: 'A1',
      at: '2026-03-03T00:00:00Z',
    });
    expect(again).toBe(first);
    expect((await findSubmissions(folder)).files).toHaveLength(1);
  });

  test.each([
    ['../../evil.csv', 'evil.csv'],
    ['C:\\temp\\..\\evil.csv', 'evil.csv'],
    ['-rf ; rm.csv', 'rf-rm.csv'],
    ['.csv', '.csv'],
    [`${'x'.repeat(300)}.CSV`, `${'x'.repeat(60)}.csv`],
    ['Größe\u0000.csv', 'Gr-e.csv'],
  ])('has a plain name, whatever it was called: %j', async (name, kept) => {
    const path = await keepSubmission(folder, { name, bytes, group: null, at });
    const dash = kept.startsWith('.') ? '' : '-';
    expect(path).toBe(`submissions/together/2026-03-02T13-40-00-000Z${dash}${kept}`);
  });

  test.each([
    [{ name: 'sheet.exe' }, '.xlsx'],
    [{ bytes: new Uint8Array(5_000_001) }, '5 MB'],
  ])('is refused where it is none: %#', async (change, words) => {
    const whole = { name: 'a.csv', bytes, group: 'A1', at, ...change };
    await expect(keepSubmission(folder, whole)).rejects.toThrow(words);
    expect((await findSubmissions(folder)).files).toEqual([]);
  });

  test('does not leave the folder by a group or by a link', async () => {
    await expect(keepSubmission(folder, { name: 'a.csv', bytes, group: '../..', at })).rejects.toThrow(
      RangeError,
    );
    const elsewhere = mkdtempSync(join(tmpdir(), 'emberline-elsewhere-'));
    mkdirSync(join(folder, 'submissions'));
    symlinkSync(elsewhere, join(folder, 'submissions', 'A1'));
    await expect(keepSubmission(folder, { name: 'a.csv', bytes, group: 'A1', at })).rejects.toThrow('link');
    expect(readdirSync(elsewhere)).toEqual([]);
    rmSync(elsewhere, { recursive: true });
  });
});

async function cellsOf(content: Uint8Array) {
  put('A1.xlsx', content);
  return readSubmission(folder, 'submissions/A1.xlsx');
}

/** The parts of a workbook with one sheet. */
function workbookParts(rows: string): ZipPart[] {
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  const relation = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  return [
    {
      name: '[Content_Types].xml',
      content: '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>',
    },
    {
      name: 'xl/workbook.xml',
      content: `<workbook xmlns="${main}" xmlns:r="${relation}"><sheets><sheet name="s" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    },
    {
      name: 'xl/_rels/workbook.xml.rels',
      content: `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="${relation}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    },
    {
      name: 'xl/worksheets/sheet1.xml',
      content: `<worksheet xmlns="${main}"><sheetData>${rows}</sheetData></worksheet>`,
    },
  ];
}

const text = (cell: string, value: string) => `<c r="${cell}" t="inlineStr"><is><t>${value}</t></is></c>`;

describe('a workbook', () => {
  test('is read with its numbers as they are stored', async () => {
    const file = await writeExcelFile([
      [
        { value: 'group' },
        { value: 'recording' },
        { value: 'tau origin / s' },
        { value: 'Re' },
        { value: 'Nu' },
      ],
      [
        { value: 'A1' },
        { value: 'x.txt' },
        { value: 41.3 },
        { value: 1.234 },
        { value: '72,6', type: String },
      ],
    ]).toBuffer();
    const cells = await cellsOf(file);
    if (!('rows' in cells)) throw new Error(cells.message);
    const { rows, faults } = readSheet(cells);
    expect(faults).toEqual([]);
    // A decimal comma in a text does not make a thousands mark of a stored point.
    expect(rows[0]?.values).toMatchObject([
      { quantity: 'origin', value: 41.3, written: '41.3 s' },
      { quantity: 'reynolds', value: 1.234 },
      { quantity: 'nusselt', value: 72.6 },
    ]);
    expect(rows[0]?.values[0]?.rounding).toBeCloseTo(0.05, 10);
  });

  test('is read where a formula shows a number, without binary rounding in it', async () => {
    const rows = `<row r="1">${text('A1', 'group')}${text('B1', 'recording')}${text('C1', 'tau origin / s')}</row>
      <row r="2">${text('A2', 'A1')}${text('B2', 'x.txt')}<c r="C2"><f>0.1+0.2</f><v>0.30000000000000004</v></c></row>`;
    const cells = await cellsOf(zipOf(workbookParts(rows)));
    if (!('rows' in cells)) throw new Error(cells.message);
    expect(readSheet(cells).rows[0]?.values).toMatchObject([{ value: 0.3, written: '0.3 s' }]);
  });

  const head = `<row r="1">${text('A1', 'group')}</row>`;
  test.each<[string, () => ZipPart[], string]>([
    [
      'unpacks to more than memory should hold',
      () => [...workbookParts(head), { name: 'xl/styles.xml', content: Buffer.alloc(30 << 20, 32) }],
      '20 MiB',
    ],
    [
      'states a size that it has not',
      () => workbookParts(head).map((part) => ({ ...part, statedSize: 10 })),
      'damaged',
    ],
    [
      'states a size that no memory holds',
      () => workbookParts(head).map((part) => ({ ...part, statedSize: 0xfffffff0 })),
      '20 MiB',
    ],
    [
      'has a cell a million rows down',
      () => workbookParts(`${head}<row r="1048576">${text('A1048576', 'x')}</row>`),
      'row 20000',
    ],
    [
      'has a cell far to the right',
      () => workbookParts(`<row r="1">${text('XFD1', 'x')}</row>`),
      'column 300',
    ],
    ['has a part twice', () => [...workbookParts(head), ...workbookParts(head)], 'damaged'],
    ['is encrypted', () => workbookParts(head).map((part) => ({ ...part, flags: 1 })), 'encrypted'],
    [
      'has thousands of parts',
      () => Array.from({ length: 600 }, (_, i) => ({ name: `a${i}.xml`, content: '' })),
      'parts',
    ],
    ['holds no sheet', () => [{ name: 'a.xml', content: '<a/>' }], 'cannot be read'],
  ])('is not read where it %s', async (_, parts, words) => {
    expect(await cellsOf(zipOf(parts()))).toMatchObject({ message: expect.stringContaining(words) });
  });

  test.each([
    ['cut off', (file: Buffer) => file.subarray(0, file.length - 30)],
    ['cut in the middle', (file: Buffer) => Buffer.concat([file.subarray(0, 200), file.subarray(-120)])],
    ['no archive but for its first bytes', () => Buffer.from('PK\x03\x04nothing')],
    ['a protected or an old one', () => Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0, 0])],
  ])('is not read where it is %s', async (_, change) => {
    const answer = await cellsOf(change(zipOf(workbookParts(head))));
    expect(answer).toMatchObject({ action: expect.stringContaining('CSV or XLSX') });
  });
});

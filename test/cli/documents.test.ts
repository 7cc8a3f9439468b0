import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import readXlsxFile from 'read-excel-file/node';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { pagesOf } from '../report/pages.ts';
import { runCommand } from './run.ts';

const recording = 'recordings/A/A1/brass-12_120-1.txt';
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-documents-'));
  mkdirSync(join(folder, 'recordings/A/A1'), { recursive: true });
  for (const path of ['experiment.yaml', recording]) {
    cpSync(join('demo/thornwick', path), join(folder, path));
  }
});
afterAll(() => rmSync(folder, { recursive: true }));

const at = (name: string) => join(folder, name);

describe('emberline report', () => {
  test.each([
    ['--trial', recording, 'Time constant'],
    ['--worked', recording, 'The exponential fit'],
    ['--group', 'A1', 'Group A1'],
    ['--bench-sheet', null, 'Group code'],
    ['--briefing', null, 'Before you start'],
  ])('writes %s as PDF, the same bytes again', async (option, value, words) => {
    const wanted = value === null ? [option] : [option, value];
    const [first, second] = [at(`first${option}.pdf`), at(`second${option}.pdf`)];
    const done = await runCommand(['report', folder, ...wanted, '--to', first]);
    expect(done).toMatchObject({ status: 0 });
    await runCommand(['report', folder, ...wanted, '--to', second]);
    const pdf = readFileSync(first);
    expect((await pagesOf(pdf)).join(' ')).toContain(words);
    expect(pdf.equals(readFileSync(second))).toBe(true);
  });

  test('leaves a file alone that is there, unless it is told otherwise', async () => {
    const path = at('sheet.html');
    const words = ['report', folder, '--bench-sheet', '--html', '--to', path];
    expect(await runCommand(words)).toMatchObject({ status: 0 });
    const refused = await runCommand(words);
    expect(refused.status).toBe(2);
    expect(refused.stderr).toContain('is there already');
    expect(await runCommand([...words, '--force'])).toMatchObject({ status: 0 });
  });

  test('asks for exactly one document', async () => {
    expect(await runCommand(['report', folder])).toMatchObject({ status: 2 });
    expect(await runCommand(['report', folder, '--bench-sheet', '--briefing'])).toMatchObject({ status: 2 });
    expect(await runCommand(['report', folder, '--trial', 'recordings/none.txt'])).toMatchObject({
      status: 2,
    });
  });
});

describe('emberline export', () => {
  test('writes one row a trial in every format, described by a data package', async () => {
    const done = await runCommand(['export', folder, '--to', at('out')]);
    expect(done).toMatchObject({ status: 0 });
    expect(readdirSync(at('out')).sort()).toEqual([
      'datapackage.json',
      'results.csv',
      'results.json',
      'results.parquet',
      'results.xlsx',
    ]);
    expect(readFileSync(at('out/results.csv'), 'utf8').trim().split('\r\n')).toHaveLength(2);
    const [sheet] = await readXlsxFile(at('out/results.xlsx'));
    expect(JSON.stringify(sheet)).toContain(recording);
  });

  test('writes a cooling with its regression, and refuses what is no format', async () => {
    expect(
      await runCommand(['export', folder, '--cooling', recording, '--to', at('cooling.xlsx')]),
    ).toMatchObject({ status: 0 });
    expect(existsSync(at('cooling.xlsx'))).toBe(true);
    expect(await runCommand(['export', folder, '--to', at('results.pdf')])).toMatchObject({ status: 2 });
  });
});

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import fc from 'fast-check';
import readXlsxFile from 'read-excel-file/node';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { type FolderAnalysis, openAnalysis } from '../../src/analysis/index.ts';
import { experimentSchema } from '../../src/experiment/index.ts';
import {
  type ExportedTrial,
  type ResultsInput,
  readNames,
  resultColumns,
  writeResults,
} from '../../src/export/index.ts';
import { unzipped } from './zip.ts';

/** What a spreadsheet may take for a formula, and what stands in front of it (OWASP, CSV Injection). */
const hostile = [
  '=1+1',
  '+1+1',
  '-1+1',
  '@SUM(1)',
  '\t=1+1',
  '\r=1+1',
  '\n=1+1',
  ' =1+1',
  '\uFEFF=1+1',
  '\u200B=1+1',
  '\u00A0=1+1',
  '\uFF1D1+1',
  '\uFF0B1+1',
  '\uFF0D1+1',
  '\uFF20SUM(1)',
  'a;=1+1',
  'a; =1+1',
  '"=1+1',
  "'=1+1",
  '|cmd',
  '%0A=1+1',
];

const scratch = mkdtempSync(join(tmpdir(), 'emberline-read-back-'));
let analysis: FolderAnalysis;
let input: ResultsInput;

beforeAll(async () => {
  analysis = await openAnalysis(join('demo', 'thornwick'), { hands: 0 });
  const { experiment } = analysis;
  if (experiment === null) throw new Error('the demo has an experiment file');
  const real: ExportedTrial[] = [];
  for (const { path } of analysis.list().recordings.slice(0, 2)) {
    const detail = await analysis.detail(path);
    real.push({ summary: detail, detail });
  }
  const [first] = real;
  if (first === undefined) throw new Error('the demo has recordings');
  const made = hostile.map((text, i): ExportedTrial => {
    const { summary } = first;
    const place = { ...summary.place, bench: text, group: text, repeat: i };
    return {
      detail: null,
      summary: {
        ...summary,
        path: `${text} ${i}`,
        place,
        rejected: i % 2 === 0,
        codes: ['a', 'b'],
        timeConstant: {
          value: 1e-9 * 7 ** i,
          standardUncertainty: 1 / 3,
          interval: [-1e-300, 1e300],
          coverage: 0.95,
          degreesOfFreedom: 3.5,
          method: 'exponential-fit',
        },
      },
    };
  });
  const origin = { course: '=1+1', version: '0.1.0', experimentHash: 'ab'.repeat(32) };
  const comparison = {
    conditions: [],
    trends: [],
    noted: [],
    left: [{ path: real[1]?.summary.path ?? '', why: '=x' }],
  };
  input = { origin, experiment, trials: [...real, ...made], comparison, names: null };
}, 120_000);
afterAll(async () => {
  await analysis.close();
  rmSync(scratch, { recursive: true });
});

const jsonShape = z.object({
  fields: z.array(z.object({ name: z.string(), type: z.string() })),
  trials: z.array(z.record(z.string(), z.union([z.string(), z.number(), z.boolean(), z.null()]))),
});

/** The rows of the JSON, which the other formats are held against: a cell a column, in their order. */
async function rowsOfJson() {
  const text = Buffer.from(await writeResults(input, 'json')).toString('utf8');
  const { fields, trials } = jsonShape.parse(JSON.parse(text));
  const names = fields.map(({ name }) => name);
  expect(names).toEqual(resultColumns.map(({ name }) => name));
  return { names, rows: trials.map((trial) => names.map((name) => trial[name] ?? null)) };
}

/** A text without the apostrophes that stand at its start and behind its semicolons. */
function bare(text: string): string {
  return text.replace(/(^|;)'/g, '$1');
}

describe('results read back', () => {
  test('from a workbook are those of the JSON, value by value', async () => {
    const { names, rows } = await rowsOfJson();
    const path = join(scratch, 'results.xlsx');
    writeFileSync(path, await writeResults(input, 'xlsx'));
    const sheets = await readXlsxFile(path, { trim: false });
    const data = sheets[0]?.data ?? [];
    expect(data[0]).toEqual(names);
    expect(data.slice(1)).toEqual(rows);
  });

  test('from Parquet are those of the JSON, value by value, and say what every column means', async () => {
    const { names, rows } = await rowsOfJson();
    const path = join(scratch, 'results.parquet');
    writeFileSync(path, await writeResults(input, 'parquet'));
    const instance = await DuckDBInstance.create(':memory:');
    const connection = await instance.connect();
    try {
      const read = await connection.runAndReadAll(`SELECT * FROM read_parquet('${path}')`);
      expect(read.columnNames()).toEqual(names);
      const plain = read
        .getRowsJS()
        .map((row) => row.map((cell) => (typeof cell === 'bigint' ? Number(cell) : cell)));
      expect(plain).toEqual(rows);
      const kept = await connection.runAndReadAll(
        `SELECT decode(value) FROM parquet_kv_metadata('${path}') WHERE decode(key) = 'fields'`,
      );
      const described = z
        .array(z.object({ name: z.string(), description: z.string().min(5) }))
        .parse(JSON.parse(String(kept.getRowsJS()[0]?.[0])));
      expect(described.map(({ name }) => name)).toEqual(names);
    } finally {
      connection.closeSync();
      instance.closeSync();
    }
  });

  test('from CSV are those of the JSON but for the apostrophes', async () => {
    const { rows } = await rowsOfJson();
    const lines = csvCells(Buffer.from(await writeResults(input, 'csv')).toString('utf8')).slice(1);
    expect(lines).toHaveLength(rows.length);
    for (const [i, line] of lines.entries()) {
      const wanted = (rows[i] ?? []).map((cell) => (cell === null ? '' : String(cell)));
      expect(line.map(bare)).toEqual(wanted.map(bare));
    }
  });
});

/** Cells of comma-separated values (RFC 4180), read letter by letter. */
function csvCells(text: string): string[][] {
  const lines: string[][] = [];
  let line: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const letter = text[i] ?? '';
    if (quoted && letter === '"' && text[i + 1] === '"') {
      cell += '"';
      i++;
    } else if (letter === '"') quoted = !quoted;
    else if (!quoted && letter === ',') {
      line.push(cell);
      cell = '';
    } else if (!quoted && letter === '\r' && text[i + 1] === '\n') {
      lines.push([...line, cell]);
      line = [];
      cell = '';
      i++;
    } else cell += letter;
  }
  return lines;
}

/** What would be worked out where cells end at any of these: the separators of all countries. */
function dangerous(cell: string): boolean {
  if (/^-?\d+(\.\d+)?(e[+-]\d+)?$/.test(cell)) return false;
  return cell
    .split(/[;\t]/u)
    .some((part) => /^[\s\u200B-\u200F\u2060"]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20|%]/u.test(part));
}

describe('text that a spreadsheet would work out', () => {
  test.each(hostile)('%j is nowhere a formula', async (text) => {
    expect(dangerous(text.replaceAll(/[\r\n]/g, ' '))).toBe(!text.startsWith("'"));
    const csv = Buffer.from(await writeResults(input, 'csv')).toString('utf8');
    for (const cell of csvCells(csv).flat()) expect(dangerous(cell) ? cell : null).toBeNull();
  });

  test('of any kind is nowhere a formula, in CSV and in a workbook', async () => {
    const sign = fc.constantFrom(...hostile, '=', '+', '-', '@', '\t', '\r', ';', '"', ' ', 'x');
    const anything = fc.array(sign, { minLength: 1, maxLength: 6 }).map((parts) => parts.join(''));
    await fc.assert(
      fc.asyncProperty(anything, async (text) => {
        const [trial] = input.trials;
        if (trial === undefined) throw new Error('there is a trial');
        const { summary } = trial;
        const one = { ...summary, path: text, place: { ...summary.place, group: text, bench: text } };
        const trials = [{ summary: one, detail: null }];
        const asked = { ...input, trials, origin: { ...input.origin, course: text } };
        const csv = Buffer.from(await writeResults(asked, 'csv')).toString('utf8');
        for (const cell of csvCells(csv).flat()) expect(dangerous(cell)).toBe(false);
        const entries = unzipped(await writeResults(asked, 'xlsx'));
        const sheets = [...entries].filter(([name]) => /^xl\/worksheets\/\w+\.xml$/.test(name));
        expect(sheets).toHaveLength(2);
        // ECMA-376, part 1, 18.3.1.40: what is worked out stands in an element f, and nothing else is.
        for (const [, xml] of sheets) expect(xml).not.toMatch(/<f[ >/]/);
      }),
      { seed: 5, numRuns: 40 },
    );
  });

  test('in a list of names is neutralised as well', async () => {
    const names = readNames('A1,"=HYPERLINK(""x"")"\n');
    const experiment = experimentSchema.parse({});
    const csv = Buffer.from(await writeResults({ ...input, experiment, names }, 'csv')).toString('utf8');
    for (const cell of csvCells(csv).flat()) expect(dangerous(cell)).toBe(false);
  });
});

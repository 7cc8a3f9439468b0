import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { RecordingSummary } from '../../src/analysis/index.ts';
import { experimentSchema } from '../../src/experiment/index.ts';
import {
  NamesError,
  type ResultsInput,
  readNames,
  resultColumns,
  writeResults,
  writeResultsPackage,
} from '../../src/export/index.ts';
import { faultsOf, jsonSchema } from './json-schema.ts';

const summary: RecordingSummary = {
  path: '=HYPERLINK("x"),1.txt',
  place: { section: 'A', group: 'A1', bench: '@SUM(1)', body: 'brass-12', flow: '120', repeat: 1 },
  state: 'analyzed',
  message: null,
  note: null,
  timeConstant: {
    value: 41.5,
    standardUncertainty: 0.15,
    interval: [41.2, 41.8],
    coverage: 0.95,
    degreesOfFreedom: 30,
    method: 'exponential-fit',
  },
  verdict: 'usable',
  codes: [],
  strip: null,
  decided: false,
  rejected: false,
  copyOf: null,
  duration: 100,
  startedAt: null,
};

const input: ResultsInput = {
  origin: { course: 'Thornwick', version: '0.1.0', experimentHash: 'ab'.repeat(32) },
  experiment: experimentSchema.parse({}),
  trials: [{ summary, detail: null }],
  comparison: { conditions: [], trends: [], noted: [], left: [] },
  names: null,
};

const text = async (format: 'csv' | 'json', from = input) =>
  Buffer.from(await writeResults(from, format)).toString('utf8');

describe('results', () => {
  test('quote after RFC 4180, 2.5 to 2.7, and put an apostrophe before what a spreadsheet would work out', async () => {
    const [head, row] = (await text('csv')).split('\r\n');
    expect(head?.split(',')).toEqual(resultColumns.map(({ name }) => name));
    expect(row?.startsWith(`"'=HYPERLINK(""x""),1.txt",A,A1,'@SUM(1),brass-12`)).toBe(true);
  });

  test('hold names only where a list of names is given', async () => {
    expect(await text('json')).not.toContain('"name": "Ada"');
    const named = { ...input, names: readNames('code,name\r\nA1,"Ada"\r\n') };
    expect(await text('csv', named)).toContain('A1,Ada,');
  });

  // Frictionless Data Package, version 1, as published: test/reference/frictionless/README.md names the source.
  test('make a data package by its published schema, the same bytes each time', async () => {
    const published = (name: string) => {
      return jsonSchema(readFileSync(join('test', 'reference', 'frictionless', `${name}.json`), 'utf8'));
    };
    const whole = published('data-package');
    const table = published('tabular-data-resource');
    const [first, second] = [await writeResultsPackage(input), await writeResultsPackage(input)];
    expect(second).toEqual(first);
    const described = JSON.parse(Buffer.from(first.at(-1)?.bytes ?? []).toString('utf8'));
    expect(faultsOf(whole, described)).toEqual([]);
    const [csv] = described.resources;
    expect(faultsOf(table, csv)).toEqual([]);
    expect(faultsOf(whole, { ...described, name: 'Not a name!' })).not.toEqual([]);
    expect(faultsOf(whole, { ...described, homepage: 'nowhere' })).not.toEqual([]);
    const { path, ...pathless } = csv;
    expect(path).toBe('results.csv');
    expect(faultsOf(table, pathless)).not.toEqual([]);
    const [field, ...fields] = csv.schema.fields;
    const unknownType = { ...csv.schema, fields: [{ ...field, type: 'text' }, ...fields] };
    expect(faultsOf(table, { ...csv, schema: unknownType })).not.toEqual([]);
  });

  test('describe the CSV that lies beside the description: header, bytes and hash', async () => {
    const files = await writeResultsPackage(input);
    const described = JSON.parse(Buffer.from(files.at(-1)?.bytes ?? []).toString('utf8'));
    expect(described.resources).toHaveLength(files.length - 1);
    for (const { path, bytes, hash } of described.resources) {
      const file = files.find(({ name }) => name === path);
      expect(file?.bytes.byteLength).toBe(bytes);
      expect(
        `sha256:${createHash('sha256')
          .update(file?.bytes ?? '')
          .digest('hex')}`,
      ).toBe(hash);
    }
    const [csv] = described.resources;
    const [head] = (await text('csv')).split('\r\n');
    expect(csv.schema.fields.map(({ name }: { name: string }) => name)).toEqual(head?.split(','));
  });

  test('refuse a list of names with a code twice', () => {
    expect(() => readNames('A1,Ada\nA1,Ben\n')).toThrow(NamesError);
  });
});

import { createHash } from 'node:crypto';
import { columnsOf } from './columns.ts';
import { describedFields, type Field } from './fields.ts';
import type { ExportFile, ResultsInput } from './types.ts';

/** A file of a data package (Frictionless Data Package, version 1). */
interface DataResource {
  readonly profile: 'data-resource' | 'tabular-data-resource';
  readonly name: string;
  readonly path: string;
  readonly title: string;
  readonly format: string;
  readonly mediatype: string;
  readonly encoding?: string;
  readonly bytes: number;
  readonly hash: string;
  readonly dialect?: Readonly<Record<string, string | boolean>>;
  readonly schema?: {
    readonly fields: readonly Field[];
    readonly primaryKey: string;
    readonly missingValues: readonly string[];
  };
}

/** What a `datapackage.json` says. */
export interface DataPackage {
  readonly profile: 'data-package';
  readonly name: string;
  readonly title: string;
  readonly description: string;
  readonly resources: readonly DataResource[];
  /** Version of Emberline and hash of the experiment file: what made the results. */
  readonly emberline: { readonly version: string; readonly experiment: string };
}

const mediatypes: Readonly<Record<string, string>> = {
  csv: 'text/csv',
  json: 'application/json',
  parquet: 'application/vnd.apache.parquet',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
};

/** The description of these files as a data package: the CSV with every column, the others as files beside it. */
export function dataPackage(input: ResultsInput, files: readonly ExportFile[]): DataPackage {
  const { course, version, experimentHash } = input.origin;
  return {
    profile: 'data-package',
    name: 'emberline-results',
    title: `Time constants, ${course}`,
    description: [
      `Results of ${input.trials.length} trials, one row a trial. Units are SI, temperatures in °C.`,
      'In the CSV, text that a spreadsheet would take for a formula has an apostrophe in front.',
      ...(input.names === null ? ['Groups are given by their codes.'] : []),
    ].join(' '),
    resources: files.map((file) => resource(input, file)),
    emberline: { version, experiment: experimentHash },
  };
}

function resource(input: ResultsInput, { name, bytes }: ExportFile): DataResource {
  const format = name.split('.').at(-1) ?? '';
  const every = {
    name: `results-${format}`,
    path: name,
    title: `The results as ${format.toUpperCase()}`,
    format,
    mediatype: mediatypes[format] ?? 'application/octet-stream',
    bytes: bytes.byteLength,
    hash: `sha256:${createHash('sha256').update(bytes).digest('hex')}`,
  };
  if (format !== 'csv') return { profile: 'data-resource', ...every };
  return {
    profile: 'tabular-data-resource',
    ...every,
    encoding: 'utf-8',
    dialect: { delimiter: ',', lineTerminator: '\r\n', quoteChar: '"', doubleQuote: true, header: true },
    schema: {
      fields: describedFields(columnsOf(input)),
      primaryKey: 'recording',
      missingValues: [''],
    },
  };
}

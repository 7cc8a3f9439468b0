import { csvText } from './csv.ts';
import { jsonText } from './json.ts';
import { dataPackage } from './package.ts';
import { parquetFile } from './parquet.ts';
import { resultsTable } from './table.ts';
import type { ExportFile, ResultsFormat, ResultsInput } from './types.ts';
import { resultsWorkbook } from './xlsx.ts';

/** The formats of results, by the ending of a file. */
export const resultsFormats: readonly ResultsFormat[] = ['csv', 'json', 'parquet', 'xlsx'];

/**
 * Results of an experiment in one format, one row a trial. The same input gives the same bytes.
 *
 * @returns the content of the file
 */
export async function writeResults(input: ResultsInput, format: ResultsFormat): Promise<Uint8Array> {
  const table = resultsTable(input);
  switch (format) {
    case 'csv':
      return Buffer.from(csvText(table), 'utf8');
    case 'json':
      return Buffer.from(jsonText(table, input.origin), 'utf8');
    case 'parquet':
      return parquetFile(table);
    case 'xlsx':
      return resultsWorkbook(table, input.origin);
  }
}

/** Results in every format, with the description that makes a data package of them: what belongs into one folder. */
export async function writeResultsPackage(input: ResultsInput): Promise<ExportFile[]> {
  const files: ExportFile[] = [];
  for (const format of resultsFormats) {
    files.push({ name: `results.${format}`, bytes: await writeResults(input, format) });
  }
  const described = `${JSON.stringify(dataPackage(input, files), null, 2)}\n`;
  return [...files, { name: 'datapackage.json', bytes: Buffer.from(described, 'utf8') }];
}

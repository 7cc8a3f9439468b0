import { coolingColumns } from '../../src/export/cooling-csv.ts';
import { resultColumns } from '../../src/export/index.ts';
import { queryTables } from '../../src/query/index.ts';
import { type JsonField, jsonErrorFields, jsonFields } from './json-fields.ts';
import { code, page, table } from './markdown.ts';

/** The page of everything that other programs read, from the descriptions that go with the files themselves. */
export function resultsPage(): string {
  const asked = queryTables([]);
  return page([
    '# Results for other programs',
    'Quantities are in SI, temperatures in °C, differences in K. Columns and fields may be added; those that are here keep their names. A unit of 1 stands for a ratio.',
    '## Results of all trials',
    '`emberline export <folder> --to results.csv` (or `.json`, `.parquet`, `.xlsx`) writes one row a trial; `emberline export --help` has the rest. With `--names` a column `name` stands behind `group`.',
    table(
      ['column', 'type', 'unit', 'meaning', 'one of'],
      resultColumns.map((column) => [
        code(column.name),
        column.type,
        column.unit ?? '',
        column.meaning,
        column.type === 'string' ? (column.oneOf ?? []).map(code).join(' ') : '',
      ]),
    ),
    '## One cooling',
    '`emberline export <folder> --cooling <recording> --to cooling.csv` writes the cooling of one recording as means of so many readings; as `.xlsx` it holds the regressions as formulas.',
    table(
      ['column', 'unit', 'meaning'],
      coolingColumns.map(({ name, unit, meaning }) => [code(name), unit ?? '', meaning]),
    ),
    '## JSON of an analysis',
    '`emberline analyze <recording...> --json` prints one object a recording, one a line. What a recording does not have is null, with nothing below it. `[]` stands for each of a list.',
    fieldTable(jsonFields),
    'A recording that could not be analyzed has instead:',
    fieldTable(jsonErrorFields),
    '## Tables for SQL',
    'What `emberline query` asks is described in [query.md](../query.md); `emberline query <folder> --tables` prints the same.',
    table(
      ['table', 'columns', 'meaning'],
      asked.map(({ name, columns, meaning }) => [
        `[${code(name)}](../query.md#${name})`,
        String(columns.length),
        meaning,
      ]),
    ),
    '## Parquet of an archive',
    'What `emberline archive` writes is described in [archive.md](../archive.md): one file a recording, with its [samples](../archive.md#samples), and a table of [recordings](../archive.md#recordings).',
  ]);
}

function fieldTable(fields: readonly JsonField[]): string {
  return table(
    ['field', 'unit', 'meaning'],
    fields.map(({ path, unit, meaning }) => [code(path), unit ?? '', meaning]),
  );
}

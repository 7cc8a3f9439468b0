import { type Cell, parquetTable } from '../export/index.ts';
import type { ArchivedRecording } from '../store/index.ts';
import { trialsTable } from './trials-table.ts';
import type { QueryColumn, QueryTerm } from './types.ts';

const ownColumns: readonly QueryColumn[] = [
  {
    name: 'file',
    type: 'string',
    unit: null,
    meaning: 'Path of the file with its samples, from the folder of the archive.',
  },
  { name: 'samples', type: 'integer', unit: null, meaning: 'Usable samples of the channel.' },
  { name: 'text_bytes', type: 'integer', unit: null, meaning: 'Size of the text, bytes.' },
  {
    name: 'text_repaired',
    type: 'boolean',
    unit: null,
    meaning: 'Whether the text says more than its samples.',
  },
];

/**
 * The archived recordings as a Parquet file, one a row: the table `trials` with where the samples of each are. Of those
 * that are no trials, such as reference runs, only that is known.
 *
 * @param term whose trials are known as far as their results are kept
 */
export async function archivedTable(
  term: QueryTerm,
  archived: readonly ArchivedRecording[],
): Promise<Uint8Array> {
  const trials = trialsTable([term]);
  const place = (name: string) => trials.columns.findIndex((column) => column.name === name);
  const [ofTerm, ofRecording, ofHash] = [place('term'), place('recording'), place('sha256')];
  const known = new Map(trials.rows.map((row) => [row[ofRecording], row]));
  const rows = archived.map(({ recording, file, sha256, samples, bytes, repairs }): readonly Cell[] => {
    const blank = trials.columns.map((_, i) =>
      i === ofTerm ? term.term : i === ofRecording ? recording : null,
    );
    const row: readonly Cell[] = known.get(recording) ?? blank;
    return [
      ...row.map((cell, i) => (i === ofHash ? sha256 : cell)),
      file,
      samples,
      bytes,
      repairs.length > 0,
    ];
  });
  const columns = [...trials.columns, ...ownColumns];
  const written = columns.map(
    ({ name, type }) => ({ name, type: type === 'moment' ? 'string' : type }) as const,
  );
  const fields = columns.map(({ name, type, unit, meaning }) => {
    return { name, type, description: meaning, ...(unit === null ? {} : { unit }) };
  });
  return parquetTable({ columns: written, rows }, fields);
}

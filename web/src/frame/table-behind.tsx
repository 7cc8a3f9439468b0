/**
 * The numbers behind a figure.
 *
 *   <TableBehind table={traceTable(data)} name="trace-brass-12" />
 *
 * Long tables show their first rows; all of them can be saved as CSV.
 */
import type { FigureTable } from '../../../src/figure/index.ts';
import { formatSignificant } from '../../../src/quantity/index.ts';
import { saveText } from './save.ts';
import { csvOf } from './table-csv.ts';

const mostRows = 200;

export function TableBehind({ table, name }: { readonly table: FigureTable; readonly name: string }) {
  const numeric = table.columns.map((_, i) => table.rows.some((row) => typeof row[i] === 'number'));
  const rows = table.rows.slice(0, mostRows);
  return (
    <div className="table-behind">
      <section
        className="scroll table-room"
        aria-label={table.caption}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
        tabIndex={0}
      >
        <table className="figures">
          <caption>{table.caption}</caption>
          <thead>
            <tr>
              {table.columns.map((column, i) => (
                <th scope="col" key={column.name} className={numeric[i] === true ? 'number' : undefined}>
                  {column.name}
                  {column.unit !== null && <> in {column.unit}</>}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, r) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other identity and never move
              <tr key={r}>
                {table.columns.map((column, i) => (
                  <td key={column.name} className={numeric[i] === true ? 'number' : undefined}>
                    {cell(row[i] ?? null)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p className="words small not-on-paper">
        {rows.length < table.rows.length && (
          <span className="quiet">
            first {rows.length} of {table.rows.length} rows
          </span>
        )}
        <button
          type="button"
          className="word"
          onClick={() => saveText(csvOf(table), `${name}.csv`, 'text/csv')}
        >
          all rows as CSV
        </button>
      </p>
    </div>
  );
}

function cell(value: string | number | null): string {
  if (value === null) return '';
  return typeof value === 'number' ? formatSignificant(value, 6, { minus: 'true' }) : value;
}

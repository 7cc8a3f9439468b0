import './reading.css';
import type { FileReading } from '../../../src/server/contract/index.ts';
import { firstRows } from './words.ts';

const roles = { time: 'time', taken: 'taken' } as const;

/** The first rows of a file as they were cut, their columns named. */
export function FirstRows({ reading }: { readonly reading: FileReading }) {
  const { columns, rows } = firstRows(reading);
  if (rows.length === 0) return null;
  const data = reading.understood?.firstDataLine ?? null;
  return (
    <section
      className="scroll"
      aria-label={`First rows of ${reading.name}`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
      tabIndex={0}
    >
      <table className="figures add-rows">
        <caption>First rows{data === null ? '' : `; the numbers begin in line ${data}`}</caption>
        <thead>
          <tr>
            <th scope="col" className="number">
              line
            </th>
            {columns.map(({ column, name, role }) => (
              <th scope="col" key={column} className={role === null ? undefined : `add-${role}`}>
                {name}
                {role !== null && <span className="add-role">{roles[role]}</span>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ line, cells }) => (
            <tr key={line} className={data !== null && line < data ? 'quiet' : undefined}>
              <th scope="row" className="number">
                {line}
              </th>
              {columns.map(({ column, role }) => (
                <td key={column} className={role === null ? undefined : `add-${role}`}>
                  {cells[column - 1] ?? ''}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

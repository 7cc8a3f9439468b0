import type { Steps } from '../../../src/server/contract/index.ts';
import { AtMark } from '../frame/measured.tsx';
import { mostDecimals } from '../frame/numbers.ts';
import { Sentence } from '../frame/sentence.tsx';
import { Formula } from './formula.tsx';
import { isNumberColumn, sourcesOf } from './sources.ts';

export type StepView = Steps['steps'][number];

/** A step: what is done, in letters and with numbers, its table, what it comes to; its sources in the margin. */
export function Step({
  step,
  number,
  asText,
}: {
  readonly step: StepView;
  readonly number: number;
  readonly asText: boolean;
}) {
  const { id, title, text, formulas, table, result } = step;
  const sources = sourcesOf(step, number);
  return (
    <section className="spread step" id={`step-${id}`} aria-labelledby={`title-${id}`}>
      <div className="wide flow">
        <h2 id={`title-${id}`}>
          <span className="step-number">{number}</span> {title}
        </h2>
        {text.map((paragraph) => (
          <p key={paragraph}>
            <Sentence>{paragraph}</Sentence>
          </p>
        ))}
        {formulas.map((formula, i) => (
          <Formula key={formula.plain} formula={formula} name={`${number}.${i + 1}`} asText={asText} />
        ))}
        {table !== null && <StepTable table={table} label={`Numbers of step ${number}, ${title}`} />}
        <p className="step-result">
          <Sentence>{result}</Sentence>
        </p>
      </div>
      {sources.length > 0 && (
        <aside className="margin" aria-label={`Sources of step ${number}`}>
          {sources.map(({ of, source }) => (
            <div className="note" key={source}>
              {of !== '' && <p className="note-place">{of}</p>}
              <p>{source}</p>
            </div>
          ))}
        </aside>
      )}
    </section>
  );
}

function StepTable({
  table,
  label,
}: {
  readonly table: NonNullable<StepView['table']>;
  readonly label: string;
}) {
  const numeric = table.columns.map((_, i) => isNumberColumn(table.rows.map((row) => row[i] ?? '')));
  const decimals = table.columns.map((_, i) =>
    numeric[i] === true ? mostDecimals(table.rows.map((row) => row[i] ?? '')) : 0,
  );
  return (
    <section
      className="scroll"
      aria-label={label}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
      tabIndex={0}
    >
      <table className="figures step-table">
        <thead>
          <tr>
            {table.columns.map((column, i) => (
              <th scope="col" key={column} className={numeric[i] === true ? 'number' : undefined}>
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row) => (
            <tr key={row.join('|')}>
              {row.map((cell, i) => (
                <td key={table.columns[i] ?? i} className={numeric[i] === true ? 'number' : undefined}>
                  {numeric[i] === true ? <AtMark text={cell} decimals={decimals[i] ?? 0} /> : cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

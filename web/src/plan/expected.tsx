import { NumberCell } from '../frame/measured.tsx';
import { mostDecimals } from '../frame/numbers.ts';
import {
  type Column,
  columnsOf,
  dominances,
  expectedRows,
  heads,
  limitSentence,
  type Shown,
} from './expectation.ts';
import type { Outcome } from './outcome.ts';

/** What to expect of every condition, with what it was before the changes. */
export function Expected({
  outcome,
  before,
}: {
  readonly outcome: Outcome;
  readonly before: Outcome | null;
}) {
  const columns = columnsOf(outcome);
  const rows = expectedRows(outcome, before);
  if (rows.length === 0) return null;
  const decimals = new Map<Column, number>(
    columns.map((column) => [
      column,
      mostDecimals(rows.map(({ cells }) => cells[column].now.replace(' %', ''))),
    ]),
  );
  const { accuracy } = outcome.experiment.prediction;
  const k = outcome.experiment.prediction['coverage-factor'];
  return (
    <section className="part" aria-labelledby="expect">
      <h2 id="expect">What to expect</h2>
      <div className="spread">
        <div className="wide">
          <section
            className="scroll"
            aria-label="expected time constants"
            // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
            tabIndex={0}
          >
            <table className="figures plan-expected">
              <thead>
                <tr>
                  <th scope="col">condition</th>
                  {columns.map((column) => (
                    <th key={column} scope="col" className="number">
                      {heads[column]}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <tr key={row.name}>
                    <th scope="row">
                      {row.name}
                      {row.fits === false && <span className="quiet"> does not fit</span>}
                    </th>
                    {row.trouble !== null ? (
                      <td colSpan={columns.length} className="plan-trouble">
                        {row.trouble}
                      </td>
                    ) : (
                      columns.map((column) => (
                        <Cell
                          key={column}
                          column={column}
                          shown={row.cells[column]}
                          decimals={decimals.get(column) ?? 0}
                        />
                      ))
                    )}
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
          <p className="quiet small plan-under">
            95 % intervals. A trial is baseline, heating, cooling to an error fraction of{' '}
            {outcome.experiment.protocol['end-fraction']}, and change-over. u(tau) is the standard uncertainty
            that one trial can reach, without what differs from trial to trial. {limitSentence(outcome)} The
            rule “Biot below 0.1” means the number with V/A.
          </p>
        </div>
        <div className="margin">
          <div className="note" role="note">
            <p className="note-place">theory</p>
            <p>
              The correlation is trusted to ±{(100 * accuracy).toFixed(0)} % in h (k = {k}). tau goes with
              1/h: that is −{((100 * accuracy) / (1 + accuracy)).toFixed(0)} % and +
              {((100 * accuracy) / (1 - accuracy)).toFixed(0)} % in tau.
            </p>
          </div>
          <div className="note" role="note">
            <p className="note-place">what h is made of, and what the ± of tau comes from</p>
            <dl className="plan-made">
              {dominances(outcome).map(({ body, heat, uncertainty }) => (
                <div key={body}>
                  <dt>{body}</dt>
                  <dd>h: {heat}</dd>
                  <dd className="quiet">±: {uncertainty}</dd>
                </div>
              ))}
            </dl>
          </div>
        </div>
      </div>
    </section>
  );
}

function Cell({
  column,
  shown,
  decimals,
}: {
  readonly column: Column;
  readonly shown: Shown;
  readonly decimals: number;
}) {
  const { now, was } = shown;
  if (was === null) {
    if (column === 'within' || column === 'uncertainty') return <td className="number">{now}</td>;
    return <NumberCell text={now} decimals={decimals} strong={column === 'timeConstant'} />;
  }
  return (
    <td className="number plan-new">
      <span className="strong">{now}</span>
      <span className="plan-was">{was === '' ? 'new' : <>was {was}</>}</span>
    </td>
  );
}

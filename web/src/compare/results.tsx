import { formatSignificant } from '../../../src/quantity/index.ts';
import { MeasuredCells, NumberCell } from '../frame/measured.tsx';
import { halfWidth, measuredWords, mostDecimals } from '../frame/numbers.ts';
import { type ConditionView, nameOf } from './compared.ts';

const verdictWords = { agrees: 'agrees', disagrees: 'disagrees', inconclusive: 'too weak to tell' } as const;

/** Measured, predicted, ratio and verdict of every condition; and what the measured value stands for. */
export function Results({ conditions }: { readonly conditions: readonly ConditionView[] }) {
  if (conditions.length === 0) return null;
  const measured = conditions.map(({ measured: m }) => measuredWords(m.value, halfWidth(m.interval), ''));
  const decimals: readonly [number, number] = [
    mostDecimals(measured.map(({ value }) => value)),
    mostDecimals(measured.map(({ uncertainty }) => uncertainty)),
  ];
  const predicted = conditions.map((one) =>
    one.predicted === null ? '' : formatSignificant(one.predicted.value, 3),
  );
  const worked = conditions.some(({ heatTransfer }) => heatTransfer !== undefined && heatTransfer !== null);
  return (
    <section className="part" aria-labelledby="results">
      <h2 id="results">Condition by condition</h2>
      <section
        className="scroll"
        aria-label="table of conditions"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
        tabIndex={0}
      >
        <table className="figures compare-table">
          <thead>
            <tr>
              <th scope="col">condition</th>
              <th scope="col" className="number">
                runs
              </th>
              <th scope="col" className="number" colSpan={2}>
                measured in s
              </th>
              <th scope="col" className="number">
                predicted in s
              </th>
              <th scope="col" className="number">
                95 % within
              </th>
              <th scope="col" className="number">
                ratio
              </th>
              <th scope="col">verdict</th>
              {worked && (
                <>
                  <th scope="col" className="number">
                    h in W/(m²·K)
                  </th>
                  <th scope="col" className="number">
                    Nu
                  </th>
                </>
              )}
            </tr>
          </thead>
          <tbody>
            {conditions.map((one, i) => (
              <tr key={nameOf(one)}>
                <th scope="row">{nameOf(one)}</th>
                <td className="number">{one.measured.runs.length}</td>
                <MeasuredCells
                  value={one.measured.value}
                  uncertainty={halfWidth(one.measured.interval)}
                  decimals={decimals}
                />
                <NumberCell text={predicted[i] ?? ''} decimals={mostDecimals(predicted)} />
                <td className="number">{withinOf(one)}</td>
                <td className="number">
                  {one.predicted === null ? '' : (one.measured.value / one.predicted.value).toFixed(2)}
                </td>
                <td className={one.verdict === 'disagrees' ? 'strong' : undefined}>
                  {one.verdict === null ? 'no theory' : verdictWords[one.verdict]}
                </td>
                {worked && (
                  <>
                    <td className="number">{workedWords(one.heatTransfer?.total)}</td>
                    <td className="number">{workedWords(one.heatTransfer?.nusselt)}</td>
                  </>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p className="quiet small compare-under">
        ± is the half-width of the 95 % interval; repeats and groups of a condition are put together.
        {worked &&
          ' h and Nu are worked back from the measured time constant; h holds convection, radiation and wires, Nu the convection alone.'}
      </p>
    </section>
  );
}

function withinOf({ predicted }: ConditionView): string {
  if (predicted === null) return '';
  const [low, high] = predicted.interval;
  const from = formatSignificant(low, 3);
  return high === null ? `from ${from}` : `${from} to ${formatSignificant(high, 3)}`;
}

function workedWords(value: { value: number; interval: readonly [number, number] } | undefined): string {
  if (value === undefined) return '';
  const written = measuredWords(value.value, halfWidth(value.interval), '');
  return `${written.value} ± ${written.uncertainty}${written.scale}`;
}

import { useCallback } from 'react';
import { spreadWords } from '../../../src/class/index.ts';
import { formatSignificant } from '../../../src/quantity/index.ts';
import type { ClassView } from '../../../src/server/contract/index.ts';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';
import { MeasuredCells, NumberCell } from '../frame/measured.tsx';
import { halfWidth, measuredWords, mostDecimals } from '../frame/numbers.ts';

/** What every group found in each condition, and the spread within and between groups. */
export function Conditions({ view, projector }: { readonly view: ClassView; readonly projector: boolean }) {
  const { conditions } = view;
  const draw = useCallback<Draw>(
    (options) =>
      import('./figures.ts').then(({ conditionsFigure, conditionStrips }) =>
        conditionsFigure(conditionStrips(conditions, nameIn(projector)), options),
      ),
    [conditions, projector],
  );
  const table = useCallback(
    () =>
      import('./figures.ts').then(({ conditionsTable, conditionStrips }) =>
        conditionsTable(conditionStrips(conditions, nameIn(projector))),
      ),
    [conditions, projector],
  );
  return (
    <section className="part" aria-labelledby="class-conditions">
      <h2 id="class-conditions">Condition by condition</h2>
      <Spread view={view} />
      <div className="own-width class-strips">
        <FigureWith
          name="class-conditions"
          label="what each group found, condition by condition"
          draw={draw}
          table={table}
        />
      </div>
    </section>
  );
}

/** A class shall not know whose a value is. */
function nameIn(projector: boolean): (group: string) => string {
  return (group) => (projector ? '' : group);
}

/** Robust mean, repeatability and reproducibility of each condition. */
function Spread({ view: { conditions } }: { readonly view: ClassView }) {
  const written = conditions.flatMap(({ location, interval }) =>
    interval === null ? [] : [measuredWords(location, halfWidth([...interval]), '')],
  );
  const decimals: readonly [number, number] = [
    mostDecimals(written.map(({ value }) => value)),
    mostDecimals(written.map(({ uncertainty }) => uncertainty)),
  ];
  const earlier = conditions.some((one) => one.earlier !== null);
  return (
    <>
      <section
        className="scroll"
        aria-label="table of conditions"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
        tabIndex={0}
      >
        <table className="figures class-table">
          <thead>
            <tr>
              <th scope="col">condition</th>
              <th scope="col" className="number">
                groups
              </th>
              <th scope="col" className="number" colSpan={2}>
                robust mean in s
              </th>
              <th scope="col" className="number">
                within a group
              </th>
              <th scope="col" className="number">
                any group
              </th>
              <th scope="col" className="number">
                over theory
              </th>
              {earlier && (
                <th scope="col" className="number">
                  over earlier terms
                </th>
              )}
            </tr>
          </thead>
          <tbody>
            {conditions.map((one) => (
              <tr key={`${one.body} ${one.flow}`}>
                <th scope="row">
                  {one.body} at {one.flow}
                </th>
                <td className="number">{one.groups.length}</td>
                {one.interval === null ? (
                  <>
                    <NumberCell text={formatSignificant(one.location, 3)} decimals={decimals[0]} />
                    <td />
                  </>
                ) : (
                  <MeasuredCells
                    value={one.location}
                    uncertainty={halfWidth([...one.interval])}
                    decimals={decimals}
                  />
                )}
                <td className="number">
                  {spreadOrNone(one.precision?.repeatability, one.precision?.repeatabilityInterval)}
                </td>
                <td className="number">
                  {spreadOrNone(one.precision?.reproducibility, one.precision?.reproducibilityInterval)}
                </td>
                <td className="number">
                  {one.predicted === null ? '' : formatSignificant(one.location / one.predicted, 3)}
                </td>
                {earlier && (
                  <td className="number">
                    {one.earlier === null ? '' : formatSignificant(one.location / one.earlier.location, 3)}
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p className="quiet small class-under">
        Robust mean of the groups by Algorithm A of ISO 13528 with its 95 % interval. Within a group: how
        trials of one group scatter, the repeatability; any group: single trials of any group, the
        reproducibility (ISO 5725-2), both as standard deviations with their 95 % intervals.
      </p>
    </>
  );
}

function spreadOrNone(
  part: number | null | undefined,
  interval: readonly [number, number] | null | undefined,
): string {
  return part === null || part === undefined ? '' : spreadWords(part, interval ?? null);
}

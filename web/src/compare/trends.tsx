import { useCallback, useMemo } from 'react';
import type { TrendSeries } from '../../../src/figure/index.ts';
import type { ComparisonView } from '../../../src/server/contract/index.ts';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';
import { Sentence } from '../frame/sentence.tsx';
import { type ConditionView, diameterSeries, speedSeries, type TheoryBasis } from './compared.ts';

/** How tau goes with diameter and with the speed of the air, against what theory expects. */
export function Trends({
  conditions,
  trends,
  basis,
}: {
  readonly conditions: readonly ConditionView[];
  readonly trends: ComparisonView['trends'];
  readonly basis: TheoryBasis;
}) {
  const diameter = useMemo(() => diameterSeries(conditions, trends, basis), [conditions, trends, basis]);
  const speed = useMemo(() => speedSeries(conditions, trends, basis), [conditions, trends, basis]);
  if (diameter.length === 0 && speed.length === 0 && trends.length === 0) return null;
  return (
    <section className="part" aria-labelledby="trends">
      <h2 id="trends">Trends</h2>
      <p className="quiet small">
        Theory expects powers: straight lines whose slope is the exponent. A trend can hold although the level
        is off, and the other way round.
      </p>
      <div className="compare-pair own-width">
        {diameter.length > 0 && <Trend name="trend-diameter" quantity="Diameter in mm" series={diameter} />}
        {speed.length > 0 && (
          <Trend name="trend-speed" quantity="Speed of the air at the body in m/s" series={speed} />
        )}
      </div>
      {trends.length > 0 && (
        <dl className="compare-words">
          {trends.map(({ material, what, sentence }) => (
            <div key={`${material} ${what} ${sentence}`}>
              <dt>
                {material}, {what}
              </dt>
              <dd>
                <Sentence>{sentence}</Sentence>
              </dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  );
}

function Trend({
  name,
  quantity,
  series,
}: {
  readonly name: string;
  readonly quantity: string;
  readonly series: readonly TrendSeries[];
}) {
  const draw = useCallback<Draw>(
    ({ theme, width }) =>
      import('./figures.ts').then((f) =>
        f.trendFigure(series, { theme: theme ?? f.lightTheme, width, quantity }),
      ),
    [series, quantity],
  );
  const table = useCallback(
    () => import('./figures.ts').then((f) => f.trendTable(series, quantity)),
    [series, quantity],
  );
  return <FigureWith name={name} label={`time constant against ${quantity}`} draw={draw} table={table} />;
}

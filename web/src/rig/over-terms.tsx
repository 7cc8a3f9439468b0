/** What is followed of the rigs over the terms: what changed first, each with its chart. */
import { useCallback, useState } from 'react';
import { followedKind } from '../../../src/class/index.ts';
import type { RigChartView, RigView } from '../../../src/server/contract/index.ts';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';

/** Charts that are drawn before somebody asks for more. */
const shownFirst = 4;

export function OverTerms({ view }: { readonly view: RigView }) {
  const [all, setAll] = useState(false);
  const charts = [
    ...view.charts.filter(({ look }) => look !== null),
    ...view.charts.filter(({ look, limits }) => look === null && limits !== null),
  ];
  const few = view.charts.filter(({ look, limits }) => look === null && limits === null);
  const shown = all ? charts : charts.slice(0, shownFirst);
  if (view.charts.length === 0 && view.missingTerms.length === 0) return null;
  return (
    <section className="flow" aria-labelledby="rig-terms">
      <h2 id="rig-terms">Over the terms</h2>
      <p className="quiet small">
        Zero, gain, ice point, jet temperature and reference runs of each bench, in the order in which they
        were made, in this term and those that the experiment file names as earlier ones. Limits lie at three
        standard deviations from value to value; from fewer than eighteen values they are provisional.
      </p>
      {view.missingTerms.map(({ written, message }) => (
        <p key={written}>
          <span className="strong">{written}</span>: {message}
        </p>
      ))}
      {shown.map((chart) => (
        <Chart key={keyOf(chart)} chart={chart} />
      ))}
      {charts.length > shown.length && (
        <p>
          <button type="button" className="word" onClick={() => setAll(true)}>
            all {charts.length} charts
          </button>
        </p>
      )}
      {few.length > 0 && (
        <ul className="plain">
          {few.map((chart) => (
            <li key={keyOf(chart)} className="quiet">
              {chart.sentence}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function keyOf({ bench, kind, subject }: RigChartView): string {
  return JSON.stringify([kind, bench, subject]);
}

function Chart({ chart }: { readonly chart: RigChartView }) {
  const { bench, kind, subject, look } = chart;
  const draw = useCallback<Draw>(
    (options) => import('./figures.ts').then((f) => f.controlFigure(chart, options)),
    [chart],
  );
  const table = useCallback(() => import('./figures.ts').then((f) => f.controlTable(chart)), [chart]);
  const label = [bench, subject, followedKind(kind).name].filter((one) => one !== null).join(', ');
  const name = ['rig', kind, bench, subject]
    .filter((one) => one !== null)
    .join('-')
    .replaceAll(' ', '-');
  return (
    <div className="rig-chart spread">
      <div className="wide">
        <FigureWith name={name} label={`control chart of ${label}`} draw={draw} table={table} />
      </div>
      {look !== null && (
        <aside className="margin" aria-label={`what to look at: ${label}`}>
          <p>{look}</p>
        </aside>
      )}
    </div>
  );
}

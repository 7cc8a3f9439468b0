import { useCallback, useMemo } from 'react';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';
import { type ConditionView, comparedConditions } from './compared.ts';

/** Both figures of measured and predicted: over all decades, and their ratio where the decades hide it. */
export function Levels({
  conditions,
  accuracy,
}: {
  readonly conditions: readonly ConditionView[];
  readonly accuracy: number | null;
}) {
  const data = useMemo(() => comparedConditions(conditions), [conditions]);
  const draw = useCallback<Draw>(
    ({ theme, width }) =>
      import('./figures.ts').then((f) =>
        f.comparedFigure(data, { theme: theme ?? f.lightTheme, width, accuracy }),
      ),
    [data, accuracy],
  );
  const drawRatio = useCallback<Draw>(
    ({ theme, width }) =>
      import('./figures.ts').then((f) =>
        f.comparedRatioFigure(data, { theme: theme ?? f.lightTheme, width, accuracy }),
      ),
    [data, accuracy],
  );
  const table = useCallback(() => import('./figures.ts').then((f) => f.comparedTable(data)), [data]);
  return (
    <section className="part" aria-label="figures of measured and predicted">
      <div className="compare-pair own-width">
        <FigureWith
          name="measured-against-predicted"
          label="measured against predicted"
          draw={draw}
          table={table}
        />
        <div>
          <FigureWith
            name="measured-over-predicted"
            label="measured over predicted"
            draw={drawRatio}
            table={table}
          />
          <div className="note compare-note" role="note">
            <p className="note-place">how to read it</p>
            <p>
              Upright and strong: the measured value with its 95 % interval, from all runs of the condition
              together. Level and fine: what theory allows.
              {accuracy !== null && (
                <>
                  {' '}
                  The band is ±{(100 * accuracy).toFixed(0)} % in h, which is −
                  {((100 * accuracy) / (1 + accuracy)).toFixed(0)} % and +
                  {((100 * accuracy) / (1 - accuracy)).toFixed(0)} % in tau.
                </>
              )}{' '}
              A ratio of 1.00 confirms theory no better than theory's own uncertainty.
            </p>
          </div>
        </div>
      </div>
    </section>
  );
}

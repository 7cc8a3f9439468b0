import { type ReactNode, useCallback, useMemo } from 'react';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';
import { Sentence } from '../frame/sentence.tsx';
import type { Outcome } from './outcome.ts';
import { sessionFigureData } from './session-figure.ts';
import { useMinute } from './use-minute.ts';

/** The session as a time line with what goes below it, and beside it what would make everything fit. */
export function Session({ outcome, children }: { readonly outcome: Outcome; readonly children: ReactNode }) {
  const { plan, experiment } = outcome;
  const { start } = experiment.session;
  const { repeats } = experiment.protocol;
  const minute = useMinute(start !== undefined);
  const data = useMemo(() => sessionFigureData(plan, start, repeats, minute), [plan, start, repeats, minute]);
  const draw = useCallback<Draw>(
    (options) => import('./figures.ts').then((f) => f.timelineFigure(data, options)),
    [data],
  );
  const table = useCallback(() => import('./figures.ts').then((f) => f.timelineTable(data)), [data]);
  return (
    <div className="spread plan-session">
      <div className="wide own-width">
        <FigureWith name="session" label="time line of the session" draw={draw} table={table} />
        {children}
      </div>
      <div className="margin">
        <Mends outcome={outcome} />
      </div>
    </div>
  );
}

function Mends({ outcome }: { readonly outcome: Outcome }) {
  const { mends, leftOut, unplanned } = outcome.plan;
  return (
    <>
      {mends.length > 0 && (
        <section className="note" aria-labelledby="to-fit">
          <h2 id="to-fit" className="plan-margin-head">
            To make everything fit
          </h2>
          <ul className="plain plan-mends">
            {mends.map(({ kind, message, fits }) => (
              <li key={kind}>
                {fits && <span className="strong">Enough by itself. </span>}
                <Sentence>{message}</Sentence>
              </li>
            ))}
          </ul>
        </section>
      )}
      {unplanned.length > 0 && (
        <div className="note note-caution" role="note">
          <p className="note-place">
            <span className="strong">no plan</span>
          </p>
          <ul className="plain">
            {unplanned.map(({ condition, message }) => (
              <li key={`${condition.body} ${condition.flow}`}>
                {condition.body} at {condition.flow}: <Sentence>{message}</Sentence>
              </li>
            ))}
          </ul>
        </div>
      )}
      {leftOut.length > 0 && (
        <div className="note" role="note">
          <p className="note-place">left out by the file</p>
          <ul className="plain">
            {leftOut.slice(0, 20).map(({ body, flow, why }) => (
              <li key={`${body} ${flow}`}>
                {body} at {flow}: {why}
              </li>
            ))}
            {leftOut.length > 20 && <li>and {leftOut.length - 20} more</li>}
          </ul>
        </div>
      )}
    </>
  );
}

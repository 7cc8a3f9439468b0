import { useCallback } from 'react';
import { departureWords } from '../../../src/class/index.ts';
import type { ClassView } from '../../../src/server/contract/index.ts';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';
import { Sentence } from '../frame/sentence.tsx';

type CausesView = NonNullable<ClassView['causes']>;

/** Levels of a cause that are named. */
const mostLevels = 4;

/** Which bench, section, body, flow and day the spread belongs to. */
export function Causes({ causes, projector }: { readonly causes: CausesView; readonly projector: boolean }) {
  const draw = useCallback<Draw>(
    (options) =>
      import('./figures.ts').then(({ causesFigure, causesOfSpread }) =>
        causesFigure(causesOfSpread(causes), options),
      ),
    [causes],
  );
  const table = useCallback(
    () =>
      import('./figures.ts').then(({ causesOfSpread, causesTable }) => causesTable(causesOfSpread(causes))),
    [causes],
  );
  const shown = causes.factors.filter(({ factor, shows }) => factor !== 'group' && shows);
  return (
    <section className="part" aria-labelledby="class-causes">
      <h2 id="class-causes">Where the spread comes from</h2>
      <p>
        <Sentence>{causes.sentence}</Sentence>
      </p>
      <div className="own-width">
        <FigureWith name="class-causes" label="where the spread comes from" draw={draw} table={table} />
      </div>
      {!projector &&
        shown.map(({ factor, effects }) => (
          <p key={factor}>
            <span className="strong">{factor}: </span>
            {effects
              .slice(0, mostLevels)
              .map(({ level, effect }) => `${level === '' ? 'not told' : level} ${departureWords(effect)}`)
              .join(', ')}
            {effects.length > mostLevels && ` and ${effects.length - mostLevels} more`}
          </p>
        ))}
      <p className="quiet small class-under">
        Taken apart is{' '}
        {causes.of === 'measured/predicted' ? 'measured over predicted' : 'measured over the class'}, by
        restricted maximum likelihood; recordings of another body than their label says are left aside
        {causes.without.length > 0 &&
          `, and ${causes.without.map(({ body, flow }) => `${body} at ${flow}`).join(', ')}, for scattering far more than the rest`}
        .
      </p>
    </section>
  );
}

import { useNames } from '../frame/use-names.ts';
import { conditionEntries, type Grid } from './arrange.ts';
import { Entry } from './entry.tsx';

/**
 * The grid for a narrow window and for a class: a heading a condition, its recordings under it. For a class they
 * stand in the order of their values, so that the place in the row does not give a group away.
 */
export function ConditionList({ grid, projector }: { readonly grid: Grid; readonly projector: boolean }) {
  const names = useNames();
  return (
    <div className="conditions">
      <p className="quiet small">
        Time constant in s, ± half the width of its 95 % interval; under it how straight ln of the error
        fraction falls.
      </p>
      {conditionEntries(grid, projector).map(({ body, flow, recordings, missing }) => (
        <section key={`${body} ${flow}`} aria-label={`${body} at ${flow}`}>
          <h3>
            {body} at {flow}
          </h3>
          {recordings.length === 0 && <p className="quiet">not recorded yet</p>}
          <ul className="plain conditions-row">
            {recordings.map((recording) => (
              <li key={recording.path}>
                <p className="conditions-group">
                  {names.number(recording.path) ?? recording.place.group ?? recording.place.bench}
                </p>
                <Entry recording={recording} name={names.of(recording.place, recording.path)} />
              </li>
            ))}
          </ul>
          {missing.length > 0 && (
            <p className="quiet">
              missing: {projector ? `${missing.length} of the groups` : missing.join(', ')}
            </p>
          )}
        </section>
      ))}
    </div>
  );
}

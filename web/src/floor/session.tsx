import type { FloorView } from '../../../src/server/contract/index.ts';
import { conditionWords } from '../frame/names.ts';
import { Sentence } from '../frame/sentence.tsx';

/** How much of the session is over, and which of the planned trials still fit. */
export function Session({
  session,
  projector,
}: {
  readonly session: FloorView['session'];
  readonly projector: boolean;
}) {
  const { elapsed, length, left, message } = session;
  const late = left.filter(({ fits }) => !fits).length;
  return (
    <div className="floor-session flow">
      <p>
        <Sentence>{message}</Sentence>
      </p>
      {elapsed !== null && length !== null && elapsed >= 0 && (
        <progress
          value={Math.min(elapsed, length)}
          max={length}
          aria-label="How much of the session is over"
        />
      )}
      {left.length > 0 && !projector && (
        <details>
          <summary>
            What is left of the plan{late === 0 ? '' : `, ${late} of ${left.length} do not fit any more`}
          </summary>
          <div className="scroll">
            <table className="figures">
              <thead>
                <tr>
                  <th scope="col">bench</th>
                  <th scope="col">condition</th>
                  <th scope="col" className="number">
                    trials
                  </th>
                  <th scope="col">time</th>
                </tr>
              </thead>
              <tbody>
                {left.map(({ bench, condition: { body, flow }, trials, fits }) => (
                  <tr key={`${bench} ${body} ${flow}`}>
                    <th scope="row">{bench}</th>
                    <td>{conditionWords(body, flow)}</td>
                    <td className="number">{trials}</td>
                    <td>{fits ? 'fits' : <span className="strong">does not fit</span>}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </details>
      )}
    </div>
  );
}

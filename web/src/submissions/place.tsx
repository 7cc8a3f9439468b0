/** What groups handed in, held against their own recordings: who is within, who should look again, and what gives it. */
import './place.css';
import { useState } from 'react';
import type { SubmissionsView } from '../../../src/server/contract/index.ts';
import { useSubmissions } from '../api/queries.ts';
import { useProjector } from '../frame/projector.ts';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';
import { whenWords } from '../recording/words.ts';
import { Group } from './group.tsx';
import { TakeSheet } from './take-sheet.tsx';

export default function SubmissionsPlace() {
  useTitle('submissions');
  const { projector } = useProjector();
  const submissions = useSubmissions();
  return (
    <div className="submissions">
      <h1>What groups handed in</h1>
      {projector ? (
        <p>In the projector view nothing of what groups handed in is shown.</p>
      ) : (
        <>
          {submissions.error !== null && (
            <Trouble error={submissions.error} again={() => void submissions.refetch()} />
          )}
          {submissions.data === undefined ? (
            submissions.error === null && <Waiting what="what groups handed in" />
          ) : (
            <Submissions view={submissions.data} />
          )}
        </>
      )}
    </div>
  );
}

function Submissions({ view }: { readonly view: SubmissionsView }) {
  const [chosen, setChosen] = useState<string | null>(null);
  const group = chosen ?? view.groups[0]?.group ?? view.waiting[0] ?? null;
  return (
    <>
      <div className="spread">
        <div className="wide flow">
          <p>
            Each value is worked out once more from the group's own recording. Where one is outside the
            tolerance, usual slips are done on that recording; the one that gives the value is named. It may
            still be something else.
          </p>
          <Groups view={view} group={group} choose={setChosen} />
          {view.waiting.length > 0 && (
            <p>
              Nothing yet from{' '}
              {view.waiting.map((code, i) => (
                <span key={code}>
                  {i > 0 && ', '}
                  <button
                    type="button"
                    className="word"
                    aria-label={`enter values of group ${code}`}
                    onClick={() => setChosen(code)}
                  >
                    {code}
                  </button>
                </span>
              ))}
              .
            </p>
          )}
        </div>
        <aside className="margin flow" aria-label="Sheets">
          <TakeSheet groups={[...view.groups.map((one) => one.group), ...view.waiting]} />
          {view.unusable.map(({ path, faults }) => (
            <div key={path} className="flow">
              <p>
                <span className="strong">{path}</span> holds no row that can be used.
              </p>
              {faults.slice(0, 3).map((fault) => (
                <p key={`${fault.line} ${fault.column} ${fault.message}`}>
                  {fault.line === null ? '' : `Line ${fault.line}: `}
                  {fault.message} {fault.action}
                </p>
              ))}
            </div>
          ))}
          {view.faults.map((fault) => (
            <p key={fault}>{fault}</p>
          ))}
        </aside>
      </div>
      {group !== null && (
        <Group
          key={group}
          group={group}
          asked={view.asked}
          handedIn={view.groups.some((one) => one.group === group)}
        />
      )}
    </>
  );
}

function Groups({
  view,
  group,
  choose,
}: {
  readonly view: SubmissionsView;
  readonly group: string | null;
  readonly choose: (group: string) => void;
}) {
  if (view.groups.length === 0) {
    return <p className="strong">No group has handed anything in yet. Take a sheet in, or enter values.</p>;
  }
  return (
    <section
      className="scroll"
      aria-label="Groups that have handed in"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
      tabIndex={0}
    >
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">group</th>
            <th scope="col">section</th>
            <th scope="col">values</th>
            <th scope="col">handed in</th>
          </tr>
        </thead>
        <tbody>
          {view.groups.map((one) => (
            <tr key={one.group}>
              <th scope="row">
                <button
                  type="button"
                  className="word"
                  aria-pressed={one.group === group}
                  onClick={() => choose(one.group)}
                >
                  {one.group}
                </button>
              </th>
              <td>{one.section ?? ''}</td>
              <td>
                {one.values} in {one.rows} {one.rows === 1 ? 'row' : 'rows'}
              </td>
              <td>
                <time dateTime={one.at}>{whenWords(one.at)}</time>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

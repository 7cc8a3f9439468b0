/** One group: its values row by row, what gives those that are outside, and the text of its feedback. */
import { useState } from 'react';
import { Link } from 'wouter';
import type { GroupSubmission, SubmissionsView } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { useGroupSubmission } from '../api/queries.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';
import { Enter } from './enter.tsx';
import { quantityName, stateWords, summaryWords } from './words.ts';

export function Group({
  group,
  asked,
  handedIn,
}: {
  readonly group: string;
  readonly asked: SubmissionsView['asked'];
  readonly handedIn: boolean;
}) {
  const { data, error, refetch } = useGroupSubmission(group, handedIn);
  const [entering, setEntering] = useState(!handedIn);
  return (
    <section className="flow submission" aria-labelledby="submission-title">
      <h2 id="submission-title">Group {group}</h2>
      {error !== null && <Trouble error={error} again={() => void refetch()} />}
      {handedIn && data === undefined && error === null && <Waiting what={`the values of ${group}`} />}
      {data !== undefined && handedIn && <Assessed data={data} />}
      {entering ? (
        <Enter group={group} asked={asked} data={data ?? null} leave={() => setEntering(false)} />
      ) : (
        <p>
          <button type="button" className="word" onClick={() => setEntering(true)}>
            enter or change values
          </button>
        </p>
      )}
      {data !== undefined && handedIn && <Feedback data={data} />}
    </section>
  );
}

function Assessed({ data }: { readonly data: GroupSubmission }) {
  return (
    <div className="spread">
      <div className="wide flow">
        <p className="strong">{summaryWords(data)}</p>
        {data.rows.map((row, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two rows may be about one recording
          <Row key={`${row.about} ${i}`} row={row} />
        ))}
      </div>
      <Beside data={data} />
    </div>
  );
}

function Row({ row }: { readonly row: GroupSubmission['rows'][number] }) {
  const name = row.about.split('/').at(-1) ?? row.about;
  const plain = row.values.length > 0 && row.values.every(({ state }) => state === 'within');
  return (
    <section className="flow submission-row" aria-label={name}>
      <h3>
        {row.recording === null ? (
          row.about
        ) : (
          <Link href={`/recordings/${inAddress(row.recording)}`}>{name}</Link>
        )}
      </h3>
      {row.trouble !== null && <p>{row.trouble}</p>}
      {plain ? (
        <details>
          <summary>
            {row.values.length} {row.values.length === 1 ? 'value' : 'values'}, all within the tolerance
          </summary>
          <Values row={row} name={name} />
        </details>
      ) : (
        <Values row={row} name={name} />
      )}
      {row.sentences.map((sentence) => (
        <p key={sentence} className="submission-why">
          {sentence}
        </p>
      ))}
    </section>
  );
}

function Values({ row, name }: { readonly row: GroupSubmission['rows'][number]; readonly name: string }) {
  return (
    <section
      className="scroll"
      aria-label={`Values of ${name}`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
      tabIndex={0}
    >
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">value</th>
            <th scope="col">handed in</th>
            <th scope="col">here</th>
            <th scope="col">it is</th>
            <th scope="col">difference</th>
          </tr>
        </thead>
        <tbody>
          {row.values.map((value) => (
            <tr key={value.quantity}>
              <th scope="row">{quantityName(value.quantity)}</th>
              <td className="number">{value.written}</td>
              <td className="number">{value.expectedWords ?? ''}</td>
              <td className={value.state === 'within' ? 'quiet' : 'strong'}>{stateWords[value.state]}</td>
              <td className="number">{value.differenceWords ?? ''}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Beside({ data }: { readonly data: GroupSubmission }) {
  const roster = [...new Set(data.rows.flatMap((row) => row.roster))];
  const notes = [...new Set(data.rows.flatMap((row) => (row.note === '' ? [] : [row.note])))];
  return (
    <aside className="margin flow" aria-label="About this sheet">
      <p className="quiet small">{data.file}</p>
      {roster.map((one) => (
        <p key={one}>{one}</p>
      ))}
      {notes.map((one) => (
        <p key={one}>Note: {one}</p>
      ))}
      {data.missing.map(({ about, quantities }) => (
        <p key={quantities.join()}>
          <span className="strong">Not handed in</span> for{' '}
          {about.map((one) => one.split('/').at(-1) ?? one).join(', ')}: {quantities.join(', ')}.
        </p>
      ))}
      {data.faults.map(({ line, column, message, action }) => (
        <p key={`${line} ${column} ${message}`}>
          {line === null ? '' : `Line ${line}`}
          {column === null ? '' : `, ${column}`}: {message} {action}
        </p>
      ))}
      {data.earlier.length > 0 && (
        <p className="quiet small">Earlier sheets, which do not count: {data.earlier.join(', ')}.</p>
      )}
    </aside>
  );
}

function Feedback({ data: { group, feedback, feedbackTrouble } }: { readonly data: GroupSubmission }) {
  return (
    <details className="submission-feedback">
      <summary>The text of the feedback</summary>
      {feedbackTrouble !== null && <p className="trouble">{feedbackTrouble}</p>}
      {feedback !== null && <pre>{feedback}</pre>}
      <p className="quiet small">
        Its words stand in feedback/ in the folder once `emberline mark --templates` has put them there;
        `emberline mark --out` writes this text as {group}.md, with those of the other groups.
      </p>
    </details>
  );
}

/** Handing values in: typed, recording by recording, or as a sheet. */
import { type FormEvent, useId, useState } from 'react';
import type { MineSubmission, MineView } from '../../../src/server/contract/index.ts';
import { Said } from '../frame/said.tsx';
import { anyFilled, requestOf, type TypedRows, typedBefore } from '../submissions/typed.ts';
import { asking } from './asking.ts';
import { Hindrance } from './hindrance.tsx';
import { useAsked, useDeed } from './use-asked.ts';
import { conditionWords, quantityLabel, whenWords } from './words.ts';

export function Values({ mine, handedIn }: { readonly mine: MineView; readonly handedIn: () => void }) {
  const { data, error, again, take } = useAsked(asking.values);
  const [open, setOpen] = useState(false);
  const { asked } = mine;
  const taken = (answer: { submission: MineSubmission | null }) => {
    take(answer);
    setOpen(false);
    handedIn();
  };
  if (asked.length === 0) return null;
  return (
    <section className="room-part flow" aria-labelledby="values">
      <h2 id="values">Hand in values</h2>
      {error !== null && <Hindrance error={error} again={again} />}
      {data !== null && (
        <>
          <Written submission={data.submission} mine={mine} />
          {open ? (
            <Sheet mine={mine} submission={data.submission} taken={taken} leave={() => setOpen(false)} />
          ) : (
            <p>
              <button type="button" className="deed" onClick={() => setOpen(true)}>
                {data.submission === null ? 'type values in' : 'change the values'}
              </button>
            </p>
          )}
          <File taken={taken} />
        </>
      )}
    </section>
  );
}

/** What counts now. */
function Written({
  submission,
  mine,
}: {
  readonly submission: MineSubmission | null;
  readonly mine: MineView;
}) {
  if (submission === null) {
    return <p>Nothing is handed in yet. What counts is what was handed in last.</p>;
  }
  const values = submission.rows.reduce((sum, row) => sum + row.values.length, 0);
  return (
    <>
      <p role="status">
        {values === 1 ? '1 value is' : `${values} values are`} handed in, {whenWords(submission.at)}. They can
        be changed until they are marked; the last ones count.
      </p>
      {submission.faults.map(({ line, column, message, action }) => (
        <p className="room-amiss" key={`${line} ${column} ${message}`}>
          {line === null ? '' : `Line ${line}`}
          {line === null || column === null ? '' : ', '}
          {column ?? ''}
          {line === null && column === null ? '' : ': '}
          <Said>{`${message} ${action}`}</Said>
        </p>
      ))}
      <details>
        <summary>What is handed in</summary>
        <ul className="room-written">
          {submission.rows.map((row) => (
            <li key={row.about}>
              {nameOf(row.recording, row.about, mine)}:{' '}
              {row.values
                .map(({ quantity, written }) => {
                  const name = mine.asked.find((one) => one.quantity === quantity)?.name ?? quantity;
                  return `${name} ${written}`;
                })
                .join(', ')}
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}

function nameOf(path: string | null, about: string, { recordings }: MineView): string {
  const found = recordings.find((one) => one.path === path);
  if (found === undefined) return about;
  const { body, flow, repeat } = found;
  return `${conditionWords(body, flow)}${repeat === null ? '' : `, repeat ${repeat}`}`;
}

function Sheet({
  mine,
  submission,
  taken,
  leave,
}: {
  readonly mine: MineView;
  readonly submission: MineSubmission | null;
  readonly taken: (answer: { submission: MineSubmission | null }) => void;
  readonly leave: () => void;
}) {
  const { recordings, asked } = mine;
  const id = useId();
  const [path, setPath] = useState(recordings[0]?.path ?? '');
  const [rows, setRows] = useState<TypedRows>(() => typedBefore(submission, asked));
  const deed = useDeed(asking.handValuesIn, taken);
  const typed = rows[path] ?? {};
  const filled = anyFilled(rows);
  if (recordings.length === 0) return <p>There is no recording yet that values could be about.</p>;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const paths = recordings.map((one) => one.path);
    if (filled) deed.go(requestOf(rows, submission, paths));
  };
  return (
    <form className="flow" onSubmit={submit} aria-label="Values">
      <p className="room-field">
        <label htmlFor={`${id}-path`}>Recording</label>
        <select id={`${id}-path`} value={path} onChange={(event) => setPath(event.target.value)}>
          {recordings.map((one) => (
            <option key={one.path} value={one.path}>
              {nameOf(one.path, one.name, mine)}
            </option>
          ))}
        </select>
      </p>
      <div className="room-fields">
        {asked.map(({ quantity, name, unit }) => (
          <p className="room-field" key={`${path} ${quantity}`}>
            <label htmlFor={`${id}-${quantity}`}>{quantityLabel(name, unit)}</label>
            <input
              id={`${id}-${quantity}`}
              value={typed[quantity] ?? ''}
              maxLength={100}
              autoComplete="off"
              inputMode="decimal"
              onChange={(event) => setRows({ ...rows, [path]: { ...typed, [quantity]: event.target.value } })}
            />
          </p>
        ))}
      </div>
      <p className="quiet small">
        Choose the next recording above; the values of all of them are handed in together. A value may carry
        another unit, as 0.69 min.
      </p>
      {deed.error !== null && <Hindrance error={deed.error} />}
      <p className="words">
        <button type="submit" className="deed" disabled={!filled || deed.does}>
          {deed.does ? 'handing in …' : 'hand in the values of all recordings'}
        </button>
        <button type="button" className="word" onClick={leave}>
          leave it
        </button>
      </p>
    </form>
  );
}

function File({ taken }: { readonly taken: (answer: { submission: MineSubmission | null }) => void }) {
  const id = useId();
  const [file, setFile] = useState<File | null>(null);
  const deed = useDeed(asking.handSheetIn, (answer) => {
    setFile(null);
    taken(answer);
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (file !== null) deed.go(file);
  };
  return (
    <details>
      <summary>Hand in a sheet, CSV or XLSX</summary>
      <form className="flow" onSubmit={submit} aria-label="A sheet with values">
        <p className="room-field">
          <label htmlFor={id}>The sheet</label>
          <input
            id={id}
            type="file"
            accept=".csv,.tsv,.txt,.xlsx"
            onChange={(event) => {
              deed.forget();
              setFile(event.target.files?.[0] ?? null);
            }}
          />
        </p>
        {deed.error !== null && <Hindrance error={deed.error} />}
        <p>
          <button type="submit" className="deed" disabled={file === null || deed.does}>
            {deed.does ? 'handing in …' : 'hand the sheet in'}
          </button>
        </p>
      </form>
    </details>
  );
}

/** What a file is of, and handing it in; how it is read only where it was not understood. */
import { type FormEvent, useId, useState } from 'react';
import type { MineView, UploadView } from '../../../src/server/contract/index.ts';
import { understoodSentence } from '../add/words.ts';
import { Said } from '../frame/said.tsx';
import { asking } from './asking.ts';
import { Hindrance } from './hindrance.tsx';
import { ReadAgain } from './read-again.tsx';
import { useDeed } from './use-asked.ts';
import { conditionWords, nextRepeat } from './words.ts';

export function Place({
  upload,
  mine,
  read,
  kept,
  leaveOut,
}: {
  readonly upload: UploadView;
  readonly mine: MineView;
  readonly read: (upload: UploadView) => void;
  readonly kept: (path: string) => void;
  readonly leaveOut: () => void;
}) {
  const { understood, trouble, sameAs, options } = upload;
  const corrected = Object.keys(options).length > 0;
  return (
    <>
      {understood !== null && <p className="small">{understoodSentence(understood)}</p>}
      {trouble !== null && (
        <div className="trouble" role="alert">
          <p className="strong">
            This file cannot be read yet{trouble.line === null ? '' : `: line ${trouble.line}`}
          </p>
          <p>
            <Said>{`${trouble.message} ${trouble.mend}`}</Said>
          </p>
        </div>
      )}
      {(trouble !== null || corrected) && <ReadAgain upload={upload} read={read} />}
      {sameAs === null ? (
        <Belongs upload={upload} mine={mine} kept={kept} leaveOut={leaveOut} />
      ) : (
        <>
          <p className="strong">
            It is the same, byte for byte, as {sameAs.split('/').at(-1)}, which is handed in already.
          </p>
          <button type="button" className="word" onClick={leaveOut}>
            leave it out
          </button>
        </>
      )}
    </>
  );
}

function Belongs({
  upload,
  mine,
  kept,
  leaveOut,
}: {
  readonly upload: UploadView;
  readonly mine: MineView;
  readonly kept: (path: string) => void;
  readonly leaveOut: () => void;
}) {
  const { conditions, recordings, group } = mine;
  const named = upload.place;
  const id = useId();
  const known = conditions.findIndex(({ body, flow }) => body === named?.body && flow === named.flow);
  const [chosen, setChosen] = useState(known);
  const [written, setWritten] = useState(named?.repeat == null ? null : String(named.repeat));
  const condition = conditions[chosen];
  const next = condition === undefined ? 1 : nextRepeat(recordings, condition.body, condition.flow);
  const repeat = written ?? String(next);
  const number = Number(repeat);
  const fits = Number.isInteger(number) && number >= 1 && number <= 99;
  const deed = useDeed(
    (place: { body: string; flow: string; repeat: number }) =>
      asking.keep(upload.id, requestOf(upload, place, group)),
    ({ path }) => kept(path),
  );
  const blocked = upload.understood === null || condition === undefined || !fits;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (condition === undefined || blocked) return;
    deed.go({ body: condition.body, flow: condition.flow, repeat: number });
  };
  return (
    <form className="flow" onSubmit={submit}>
      <div className="room-fields">
        <p className="room-field">
          <label htmlFor={`${id}-condition`}>What it is of</label>
          <select
            id={`${id}-condition`}
            value={chosen}
            onChange={(event) => setChosen(Number(event.target.value))}
          >
            {condition === undefined && <option value={-1}>choose body and flow</option>}
            {conditions.map(({ body, flow }, i) => (
              <option key={`${body} ${flow}`} value={i}>
                {conditionWords(body, flow)}
              </option>
            ))}
          </select>
        </p>
        <p className="room-field">
          <label htmlFor={`${id}-repeat`}>Repeat</label>
          <input
            id={`${id}-repeat`}
            value={repeat}
            maxLength={2}
            inputMode="numeric"
            aria-invalid={!fits || undefined}
            onChange={(event) => setWritten(event.target.value)}
          />
        </p>
      </div>
      {!fits && <p role="alert">The repeat is a whole number from 1 to 99.</p>}
      {deed.error !== null && <Hindrance error={deed.error} />}
      <p className="words">
        <button type="submit" className="deed" disabled={blocked || deed.does}>
          {deed.does ? 'handing in …' : 'hand it in'}
        </button>
        <button type="button" className="word" onClick={leaveOut}>
          leave it out
        </button>
      </p>
    </form>
  );
}

/** A file that was corrected takes along who said how it is read. */
function requestOf(
  { options }: UploadView,
  place: { readonly body: string; readonly flow: string; readonly repeat: number },
  group: string,
) {
  if (Object.keys(options).length === 0) return { place };
  return { place, reading: { read: options, who: `group ${group}`, why: '' } };
}

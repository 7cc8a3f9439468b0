/** Reference runs: a form that keeps one, and all that were kept. */
import { type FormEvent, useId, useState } from 'react';
import { formatWithUncertainty } from '../../../src/quantity/index.ts';
import type { RigReferenceView, RigView } from '../../../src/server/contract/index.ts';
import { useKeepReference } from '../api/queries.ts';
import { useProjector } from '../frame/projector.ts';
import { rememberedWho, rememberWho } from '../recording/who.ts';
import { whenWords } from '../recording/words.ts';
import { Field, WhoField } from './field.tsx';
import { KeepDeed } from './keep-deed.tsx';
import { TakeBack } from './take-back.tsx';

/** Shown before somebody asks for more. */
const shownFirst = 10;

export function References({ view }: { readonly view: RigView }) {
  const { projector } = useProjector();
  const [all, setAll] = useState(false);
  const [taking, setTaking] = useState<string | null>(null);
  const back = new Map(view.referencesWithdrawn.map((one) => [one.id, one]));
  const runs = view.references.toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const shown = all ? runs : runs.slice(0, shownFirst);
  return (
    <section className="flow" aria-labelledby="rig-runs">
      <h2 id="rig-runs">Reference runs</h2>
      <p className="quiet small">
        An instructor's own trial at a bench. While a session is recorded, later trials are held against it.
        Its recording lies in the folder, such as below reference/, where it is not taken for a group's; what
        it showed is kept in rig/reference-runs.json.
      </p>
      {!projector && <Keep view={view} />}
      {runs.length === 0 && <p>None yet.</p>}
      <ol className="plain flow rig-book">
        {shown.map((run) => {
          const withdrawn = back.get(run.id);
          return (
            <li key={run.id}>
              <p className={withdrawn === undefined ? undefined : 'quiet'}>
                {withdrawn === undefined ? lineOf(run) : <s>{lineOf(run)}</s>}
                {run.note !== '' && !projector && `. ${run.note}`}
              </p>
              <p className="quiet small">
                {run.term}, {projector ? '' : `${run.who}, `}
                <time dateTime={run.at}>{whenWords(run.at)}</time>
                {withdrawn !== undefined &&
                  `. Taken back${projector ? '' : ` by ${withdrawn.who}: ${withdrawn.why}`}`}{' '}
                {withdrawn === undefined && taking !== run.id && !projector && (
                  <button
                    type="button"
                    className="word"
                    aria-label={`take back: ${lineOf(run)}`}
                    onClick={() => setTaking(run.id)}
                  >
                    take back
                  </button>
                )}
              </p>
              {taking === run.id && !projector && (
                <TakeBack id={run.id} line={lineOf(run)} leave={() => setTaking(null)} />
              )}
            </li>
          );
        })}
      </ol>
      {runs.length > shown.length && (
        <p>
          <button type="button" className="word" onClick={() => setAll(true)}>
            all {runs.length} reference runs
          </button>
        </p>
      )}
    </section>
  );
}

function lineOf({ bench, body, flow, timeConstant, interval, expected }: RigReferenceView): string {
  const place = bench === null ? '' : `${bench}, `;
  const found = formatWithUncertainty(timeConstant, (interval[1] - interval[0]) / 2).text;
  const by = expected?.source === 'prediction' ? 'expected by theory' : 'before on this bench';
  const held = expected === null ? '' : `; ${Number(expected.value.toPrecision(3))} s ${by}`;
  return `${place}${body} in ${flow}: ${found} s${held}`;
}

function Keep({ view }: { readonly view: RigView }) {
  const keep = useKeepReference();
  const id = useId();
  const [recording, setRecording] = useState('');
  const [bench, setBench] = useState(view.benches[0] ?? '');
  const [body, setBody] = useState(view.bodies[0] ?? '');
  const [flow, setFlow] = useState(view.flows[0] ?? '');
  const [who, setWho] = useState(rememberedWho);
  const [kept, setKept] = useState('');
  const ready = recording.trim() !== '' && who.trim() !== '' && body !== '' && flow !== '';
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || keep.isPending) return;
    rememberWho(who.trim());
    setKept('');
    keep.mutate(
      { recording: recording.trim(), bench: bench || null, body, flow, who: who.trim(), note: '' },
      {
        onSuccess: (after) => {
          const run = after.references.at(-1);
          setKept(run === undefined ? 'The run is kept.' : `Kept: ${lineOf(run)}.`);
          setRecording('');
        },
      },
    );
  };
  const choice = (label: string, value: string, codes: readonly string[], set: (code: string) => void) => (
    <Field id={`${id}-${label}`} label={label}>
      <select id={`${id}-${label}`} value={value} onChange={(event) => set(event.target.value)}>
        {codes.map((code) => (
          <option key={code}>{code}</option>
        ))}
      </select>
    </Field>
  );
  return (
    <form className="flow" onSubmit={send} aria-label="Keep a reference run">
      <div className="rig-fields">
        <Field id={`${id}-recording`} label="Its recording, from the folder" wide>
          <input
            id={`${id}-recording`}
            value={recording}
            maxLength={400}
            required
            autoComplete="off"
            list={`${id}-candidates`}
            placeholder="reference/bench-1/brass-12_120.txt"
            onChange={(event) => setRecording(event.target.value)}
          />
          <datalist id={`${id}-candidates`}>
            {view.candidates.map((path) => (
              <option key={path} value={path} />
            ))}
          </datalist>
        </Field>
        {view.benches.length > 0 && choice('Made on', bench, view.benches, setBench)}
        {choice('Body of the run', body, view.bodies, setBody)}
        {choice('Flow of the run', flow, view.flows, setFlow)}
        <WhoField label="Who made it" who={who} setWho={setWho} />
      </div>
      <KeepDeed what="run" ready={ready} keep={keep} kept={kept} />
    </form>
  );
}

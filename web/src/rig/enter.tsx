/** The form for a check: what, where, what it showed, who. How to make it, and what to take care of, stand beside it. */
import { type FormEvent, type RefObject, useId, useState } from 'react';
import { checkedThing, rigKind, rigKinds } from '../../../src/rig/index.ts';
import type { RigView } from '../../../src/server/contract/index.ts';
import { useCheckRig } from '../api/queries.ts';
import { rememberedWho, rememberWho } from '../recording/who.ts';
import { codesFor, type Draft, requestOf, standingFor, withKind } from './draft.ts';
import { Field, WhoField } from './field.tsx';
import { KeepDeed } from './keep-deed.tsx';

export function Enter({
  view,
  draft,
  change,
  value,
}: {
  readonly view: RigView;
  readonly draft: Draft;
  readonly change: (draft: Draft) => void;
  /** The field for the value, for whoever sends people there. */
  readonly value: RefObject<HTMLInputElement | null>;
}) {
  const keep = useCheckRig();
  const [who, setWho] = useState(rememberedWho);
  const [kept, setKept] = useState('');
  const id = useId();
  const about = rigKind(draft.kind);
  const codes = codesFor(view, draft.kind);
  const standing = standingFor(view, draft);
  const ready = draft.value.trim() !== '' && who.trim() !== '';
  const set = (part: Partial<Draft>) => {
    setKept('');
    keep.reset();
    change({ ...draft, ...part });
  };
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || keep.isPending) return;
    rememberWho(who.trim());
    keep.mutate(requestOf(draft, who.trim()), {
      onSuccess: (after) => {
        setKept(standingFor(after, draft)?.message ?? 'The check is kept.');
        change({ ...draft, value: '', note: '' });
        value.current?.focus();
      },
    });
  };
  return (
    <form className="rig-enter" onSubmit={send} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>Enter a check</h2>
      <div className="spread">
        <div className="wide flow">
          <div className="rig-fields">
            <Field id={`${id}-kind`} label="What was checked">
              <select
                id={`${id}-kind`}
                value={draft.kind}
                onChange={(event) => {
                  const next = rigKinds.find(({ kind }) => kind === event.target.value);
                  if (next !== undefined) set(withKind(draft, next.kind, view));
                }}
              >
                {rigKinds
                  .filter(({ kind, of }) => of === 'bench' || codesFor(view, kind).length > 0)
                  .map(({ kind }) => (
                    <option key={kind} value={kind}>
                      {checkedThing(kind, null)}
                    </option>
                  ))}
              </select>
            </Field>
            {about.of !== 'bench' && (
              <Field id={`${id}-of`} label={about.of === 'body' ? 'Body' : 'Flow'}>
                <select
                  id={`${id}-of`}
                  value={draft.subject}
                  onChange={(event) => set({ subject: event.target.value })}
                >
                  {codes.map((code) => (
                    <option key={code}>{code}</option>
                  ))}
                </select>
              </Field>
            )}
            {about.of !== 'body' && view.benches.length > 0 && (
              <Field id={`${id}-bench`} label="Bench">
                <select
                  id={`${id}-bench`}
                  value={draft.bench}
                  onChange={(event) => set({ bench: event.target.value })}
                >
                  {about.shared && <option value="">all benches</option>}
                  {view.benches.map((bench) => (
                    <option key={bench}>{bench}</option>
                  ))}
                </select>
              </Field>
            )}
            <Field id={`${id}-value`} label="What it showed, with its unit">
              <input
                ref={value}
                id={`${id}-value`}
                value={draft.value}
                maxLength={100}
                required
                autoComplete="off"
                placeholder={about.example}
                aria-describedby={`${id}-limit`}
                onChange={(event) => set({ value: event.target.value })}
              />
            </Field>
            <WhoField label="Who checked it" who={who} setWho={setWho} />
            <Field id={`${id}-at`} label="When, if not now">
              <input
                id={`${id}-at`}
                type="datetime-local"
                value={draft.at}
                onChange={(event) => set({ at: event.target.value })}
              />
            </Field>
            <Field id={`${id}-note`} label="Note, if there is one" wide>
              <input
                id={`${id}-note`}
                value={draft.note}
                maxLength={500}
                autoComplete="off"
                onChange={(event) => set({ note: event.target.value })}
              />
            </Field>
          </div>
          <p id={`${id}-limit`} className="quiet">
            {limitSentence(standing?.limitWords ?? null)}
          </p>
          <KeepDeed what="check" ready={ready} keep={keep} kept={kept} />
        </div>
        <aside className="margin flow" aria-label="How it is checked">
          <p>{about.how}</p>
          <p className="strong">Take care</p>
          <p>{about.care} Local rules come first.</p>
        </aside>
      </div>
    </form>
  );
}

function limitSentence(limit: string | null): string {
  return limit === null
    ? 'There is nothing yet to hold it against: the next check will be held against this one.'
    : `It should be ${limit}.`;
}

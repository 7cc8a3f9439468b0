/** All checks that were ever made, the latest first, and taking one back. */
import { type FormEvent, useId, useState } from 'react';
import { checkedThing } from '../../../src/rig/index.ts';
import type { RigCheckView, RigView } from '../../../src/server/contract/index.ts';
import { useWithdrawRigCheck } from '../api/queries.ts';
import { useProjector } from '../frame/projector.ts';
import { Trouble } from '../frame/trouble.tsx';
import { rememberedWho, rememberWho } from '../recording/who.ts';
import { whenWords } from '../recording/words.ts';

/** Shown before somebody asks for more. */
const shownFirst = 20;

export function Book({ view }: { readonly view: RigView }) {
  const { projector } = useProjector();
  const [all, setAll] = useState(false);
  const [taking, setTaking] = useState<string | null>(null);
  const back = new Map(view.withdrawn.map((one) => [one.id, one]));
  const checks = view.checks.toReversed();
  const shown = all ? checks : checks.slice(0, shownFirst);
  return (
    <section className="flow" aria-labelledby="rig-book">
      <h2 id="rig-book">Checks that were made</h2>
      <p className="quiet small">
        Kept in rig/checks.json in the folder. Nothing is ever taken out of it; what was typed wrongly can be
        taken back and then does not count.
      </p>
      {checks.length === 0 && <p>None yet.</p>}
      <ol className="plain flow rig-book">
        {shown.map((check) => {
          const withdrawn = back.get(check.id);
          return (
            <li key={check.id}>
              <p className={withdrawn === undefined ? undefined : 'quiet'}>
                {withdrawn === undefined ? line(check) : <s>{line(check)}</s>}
                {check.note !== '' && !projector && `. ${check.note}`}
              </p>
              <p className="quiet small">
                {projector ? '' : `${check.who}, `}
                <time dateTime={check.at}>{whenWords(check.at)}</time>
                {withdrawn !== undefined &&
                  `. Taken back${projector ? '' : ` by ${withdrawn.who}: ${withdrawn.why}`}`}{' '}
                {withdrawn === undefined && taking !== check.id && !projector && (
                  <button
                    type="button"
                    className="word"
                    aria-label={`take back: ${line(check)}`}
                    onClick={() => setTaking(check.id)}
                  >
                    take back
                  </button>
                )}
              </p>
              {taking === check.id && !projector && <TakeBack check={check} leave={() => setTaking(null)} />}
            </li>
          );
        })}
      </ol>
      {checks.length > shown.length && (
        <p>
          <button type="button" className="word" onClick={() => setAll(true)}>
            all {checks.length} checks
          </button>
        </p>
      )}
    </section>
  );
}

function line({ bench, kind, subject, written }: RigCheckView): string {
  return `${bench === null ? '' : `${bench}, `}${checkedThing(kind, subject)}: ${written}`;
}

function TakeBack({ check, leave }: { readonly check: RigCheckView; readonly leave: () => void }) {
  const withdraw = useWithdrawRigCheck();
  const [who, setWho] = useState(rememberedWho);
  const [why, setWhy] = useState('');
  const id = useId();
  const ready = who.trim() !== '' && why.trim() !== '';
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || withdraw.isPending) return;
    rememberWho(who.trim());
    withdraw.mutate({ id: check.id, who: who.trim(), why: why.trim() }, { onSuccess: leave });
  };
  return (
    <form className="rig-back flow" onSubmit={send} aria-label={`Take back: ${line(check)}`}>
      <div className="rig-fields">
        <div className="rig-field rig-field-wide">
          <label htmlFor={`${id}-why`}>Why</label>
          <input
            id={`${id}-why`}
            value={why}
            maxLength={500}
            required
            placeholder="that was the other bench"
            // biome-ignore lint/a11y/noAutofocus: the form opens where the person has just pressed its word
            autoFocus
            onChange={(event) => setWhy(event.target.value)}
          />
        </div>
        <div className="rig-field">
          <label htmlFor={`${id}-who`}>Who takes it back</label>
          <input
            id={`${id}-who`}
            value={who}
            maxLength={60}
            required
            autoComplete="name"
            onChange={(event) => setWho(event.target.value)}
          />
        </div>
      </div>
      <p className="words">
        <button type="submit" className="deed" disabled={!ready || withdraw.isPending}>
          take back
        </button>
        <button type="button" className="word" onClick={leave}>
          leave it
        </button>
      </p>
      {withdraw.isError && <Trouble error={withdraw.error} />}
    </form>
  );
}

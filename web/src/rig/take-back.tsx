/** Taking a check or a reference run back: why, and who. */
import { type FormEvent, useId, useState } from 'react';
import { useWithdrawRigCheck } from '../api/queries.ts';
import { Trouble } from '../frame/trouble.tsx';
import { rememberedWho, rememberWho } from '../recording/who.ts';
import { Field, WhoField } from './field.tsx';

export function TakeBack({
  id: entry,
  line,
  leave,
}: {
  /** Of the check or reference run. */
  readonly id: string;
  /** What it is, in words. */
  readonly line: string;
  readonly leave: () => void;
}) {
  const withdraw = useWithdrawRigCheck();
  const [who, setWho] = useState(rememberedWho);
  const [why, setWhy] = useState('');
  const id = useId();
  const ready = who.trim() !== '' && why.trim() !== '';
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || withdraw.isPending) return;
    rememberWho(who.trim());
    withdraw.mutate({ id: entry, who: who.trim(), why: why.trim() }, { onSuccess: leave });
  };
  return (
    <form className="rig-back flow" onSubmit={send} aria-label={`Take back: ${line}`}>
      <div className="rig-fields">
        <Field id={`${id}-why`} label="Why" wide>
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
        </Field>
        <WhoField label="Who takes it back" who={who} setWho={setWho} />
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

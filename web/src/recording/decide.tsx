/** Keeping moved marks, taking a recording out, and taking a decision back: each with who and why. */
import { type FormEvent, type KeyboardEvent, useId, useState } from 'react';
import type { DecisionRequest } from '../../../src/server/contract/index.ts';
import { useDecide } from '../api/queries.ts';
import { Trouble } from '../frame/trouble.tsx';
import { rememberedWho, rememberWho } from './who.ts';

export function Decide({
  path,
  title,
  deed,
  request,
  whyNeeded = true,
  example,
  done,
  leave,
}: {
  readonly path: string;
  readonly title: string;
  /** The word on the button. */
  readonly deed: string;
  readonly request: (who: string, why: string) => DecisionRequest;
  readonly whyNeeded?: boolean;
  readonly example: string;
  readonly done: () => void;
  readonly leave: () => void;
}) {
  const decide = useDecide(path);
  const [who, setWho] = useState(rememberedWho);
  const [why, setWhy] = useState('');
  const id = useId();
  const ready = who.trim() !== '' && (!whyNeeded || why.trim() !== '');
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || decide.isPending) return;
    rememberWho(who.trim());
    decide.mutate(request(who.trim(), why.trim()), { onSuccess: done });
  };
  const press = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || decide.isPending) return;
    event.preventDefault();
    leave();
  };
  return (
    // Escape is a second way to “leave it”.
    <form className="decide flow" onSubmit={send} onKeyDown={press} aria-labelledby={`${id}-title`}>
      <h3 id={`${id}-title`}>{title}</h3>
      <p className="field">
        <label htmlFor={`${id}-why`}>Why{whyNeeded ? '' : ', if there is a reason to note'}</label>
        <input
          id={`${id}-why`}
          value={why}
          maxLength={500}
          required={whyNeeded}
          placeholder={example}
          // biome-ignore lint/a11y/noAutofocus: the form opens where the person has just pressed its word
          autoFocus
          onChange={(event) => setWhy(event.target.value)}
        />
      </p>
      <p className="field">
        <label htmlFor={`${id}-who`}>Who decides</label>
        <input
          id={`${id}-who`}
          value={who}
          maxLength={60}
          required
          autoComplete="name"
          onChange={(event) => setWho(event.target.value)}
        />
      </p>
      <p className="words">
        <button type="submit" className="deed" disabled={!ready} aria-busy={decide.isPending}>
          {deed}
        </button>
        <button type="button" className="word" onClick={leave}>
          leave it
        </button>
      </p>
      {decide.isError && <Trouble error={decide.error} />}
    </form>
  );
}

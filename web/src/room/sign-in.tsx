/** Signing in: who somebody is, and what shows it. */
import { type FormEvent, useId, useState } from 'react';
import { asking, type SignIn as Shown } from './asking.ts';
import { Hindrance } from './hindrance.tsx';
import { useDeed } from './use-asked.ts';

type Kind = 'group' | 'staff' | 'display';

const kinds: readonly (readonly [Kind, string])[] = [
  ['group', 'a group at its bench'],
  ['staff', 'staff'],
  ['display', 'the display'],
];

/** What staff may be, by the code that they were given. */
const staff = ['instructor', 'assistant'] as const;

export function SignIn() {
  const [kind, setKind] = useState<Kind>('group');
  const [role, setRole] = useState<(typeof staff)[number]>('assistant');
  const [group, setGroup] = useState('');
  const [secret, setSecret] = useState('');
  const id = useId();
  // What the server sends by this address depends on who is signed in.
  const deed = useDeed(asking.signIn, () => window.location.assign('/'));
  const missing = secret.trim() === '' || (kind === 'group' && group.trim() === '');

  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!missing) deed.go(shownBy(kind, role, group, secret));
  };
  return (
    <form className="flow room-sign-in" onSubmit={submit}>
      <h1>Sign in</h1>
      <fieldset className="room-kinds">
        <legend>This device is for</legend>
        {kinds.map(([one, words]) => (
          <label key={one}>
            <input
              type="radio"
              name="kind"
              value={one}
              checked={kind === one}
              onChange={() => {
                setKind(one);
                deed.forget();
              }}
            />
            {words}
          </label>
        ))}
      </fieldset>
      {kind === 'group' && (
        <p className="room-field">
          <label htmlFor={`${id}-group`}>Group</label>
          <input
            id={`${id}-group`}
            name="username"
            value={group}
            maxLength={100}
            autoComplete="username"
            autoCapitalize="none"
            autoCorrect="off"
            spellCheck={false}
            onChange={(event) => setGroup(event.target.value)}
          />
        </p>
      )}
      {kind === 'staff' && (
        <p className="room-field">
          <label htmlFor={`${id}-role`}>As</label>
          <select
            id={`${id}-role`}
            value={role}
            onChange={(event) => setRole(staff.find((one) => one === event.target.value) ?? 'assistant')}
          >
            {staff.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </p>
      )}
      {/* The same field, but one by whom it is for: a password manager keeps what it offers apart. */}
      <p className="room-field" key={kind}>
        <label htmlFor={`${id}-code`}>{kind === 'group' ? 'Join code' : 'Code'}</label>
        <input
          id={`${id}-code`}
          type={kind === 'group' ? 'text' : 'password'}
          name="password"
          value={secret}
          maxLength={200}
          autoComplete="current-password"
          autoCapitalize="none"
          autoCorrect="off"
          spellCheck={false}
          aria-describedby={`${id}-hint`}
          onChange={(event) => setSecret(event.target.value)}
        />
      </p>
      <p className="quiet small" id={`${id}-hint`}>
        {hints[kind]}
      </p>
      {deed.error !== null && <Hindrance error={deed.error} />}
      <p>
        <button type="submit" className="deed" disabled={missing || deed.does}>
          {deed.does ? 'signing in …' : 'sign in'}
        </button>
      </p>
    </form>
  );
}

const hints: Readonly<Record<Kind, string>> = {
  group: 'It stands on the card of your group. Capitals, spaces and hyphens do not matter.',
  staff: 'The instructor has it from the server, the assistant from the instructor.',
  display: 'The instructor has it. A display shows all benches, and nothing of any one group.',
};

function shownBy(kind: Kind, role: (typeof staff)[number], group: string, secret: string): Shown {
  if (kind === 'group') return { as: 'group', group: group.trim(), code: secret.trim() };
  return { as: kind === 'staff' ? role : 'display', secret };
}

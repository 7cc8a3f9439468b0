/** The room as the instructor sees it: where it is reached, codes to hand out, who is there. */
import { useState } from 'react';
import type { RoomView } from '../../../src/server/contract/index.ts';
import { asking, type CodeHolder } from './asking.ts';
import { Hindrance } from './hindrance.tsx';
import { Releases } from './releases.tsx';
import { useAsked, useDeed } from './use-asked.ts';

export function Codes() {
  const room = useAsked(asking.room);
  const renew = useDeed(asking.renewCode, room.take);
  const end = useDeed(asking.signOutOf, room.take);
  const { data } = room;
  if (data === null) {
    if (room.error !== null) return <Hindrance error={room.error} again={room.again} />;
    return (
      <p className="waiting quiet" role="status">
        Opening the room …
      </p>
    );
  }
  return (
    <>
      <h1>The room</h1>
      <Reach {...data} />
      {renew.error !== null && <Hindrance error={renew.error} />}
      {end.error !== null && <Hindrance error={end.error} />}
      <Slips {...data} renew={renew.go} busy={renew.does} />
      <Releases />
      <SignedIn {...data} end={(label) => end.go(label)} busy={end.does} again={room.again} />
    </>
  );
}

function Reach({ addresses, fingerprint }: Pick<RoomView, 'addresses' | 'fingerprint'>) {
  return (
    <section className="room-part" aria-labelledby="room-reach">
      <h2 id="room-reach">Where others open it</h2>
      <ul className="plain">
        {addresses.map((address) => (
          <li key={address} className="strong">
            {address}
          </li>
        ))}
      </ul>
      {fingerprint === null ? (
        <p>A proxy in front of this server has the certificate.</p>
      ) : (
        <>
          <p>
            Browsers warn where nobody vouches for the certificate. Write its fingerprint on the board, and
            let everybody compare before they go on:
          </p>
          <p className="room-print">
            {fingerprint.split(':').map((pair, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: pairs stand where they stand
              <span key={i}>{pair}</span>
            ))}
          </p>
        </>
      )}
    </section>
  );
}

function Slips({
  assistant,
  display,
  groups,
  renew,
  busy,
}: Pick<RoomView, 'assistant' | 'display' | 'groups'> & {
  readonly renew: (of: CodeHolder) => void;
  readonly busy: boolean;
}) {
  const [shown, setShown] = useState(false);
  const rows: readonly { readonly name: string; readonly code: string; readonly of: CodeHolder }[] = [
    { name: 'assistants', code: assistant, of: 'assistant' },
    { name: 'display', code: display, of: 'display' },
    ...groups.map(({ group, section, code }) => ({
      name: section === null ? `group ${group}` : `group ${group} (section ${section})`,
      code,
      of: { group },
    })),
  ];
  return (
    <section className="room-part" aria-labelledby="room-codes">
      <h2 id="room-codes">Codes to hand out</h2>
      <p>
        A slip for each group, by which it signs in and nobody else. A new code signs out who came by the old
        one.
      </p>
      <p className="not-on-paper">
        <button type="button" className="word" aria-expanded={shown} onClick={() => setShown(!shown)}>
          {shown ? 'hide the codes' : 'show the codes'}
        </button>{' '}
        {shown && (
          <button type="button" className="word" onClick={() => window.print()}>
            print the slips
          </button>
        )}
      </p>
      {shown && (
        <table className="room-table room-slips">
          <thead>
            <tr>
              <th scope="col">for</th>
              <th scope="col">code</th>
              <th scope="col" className="not-on-paper">
                if it went astray
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ name, code, of }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td className="room-code">{code}</td>
                <td className="not-on-paper">
                  <button
                    type="button"
                    className="word"
                    disabled={busy}
                    aria-label={`new code for ${name}`}
                    onClick={() => renew(of)}
                  >
                    new code
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function SignedIn({
  signedIn,
  end,
  busy,
  again,
}: Pick<RoomView, 'signedIn'> & {
  readonly end: (label: string) => void;
  readonly busy: boolean;
  readonly again: () => void;
}) {
  return (
    <section className="room-part not-on-paper" aria-labelledby="room-there">
      <h2 id="room-there">Who is signed in</h2>
      <table className="room-table">
        <thead>
          <tr>
            <th scope="col">who</th>
            <th scope="col">devices</th>
            <th scope="col">last seen</th>
            <th scope="col">on all of them</th>
          </tr>
        </thead>
        <tbody>
          {signedIn.map(({ label, devices, seen }) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              <td className="number">{devices}</td>
              <td>{clock.format(seen)}</td>
              <td>
                <button
                  type="button"
                  className="word"
                  disabled={busy}
                  aria-label={`sign ${label} out`}
                  onClick={() => end(label)}
                >
                  sign out
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        <button type="button" className="word" onClick={again}>
          look again
        </button>
      </p>
    </section>
  );
}

const clock = new Intl.DateTimeFormat('en-GB', { timeStyle: 'short', dateStyle: 'medium' });

/** Whose groups see their results, and who let them. */
import { useState } from 'react';
import type { ReleasesView } from '../../../src/server/contract/index.ts';
import { asking } from './asking.ts';
import { Hindrance } from './hindrance.tsx';
import { useAsked, useDeed } from './use-asked.ts';

export function Releases() {
  const releases = useAsked(asking.releases);
  const deed = useDeed(asking.release, releases.take);
  const [who, setWho] = useState('');
  return (
    <section className="room-part not-on-paper" aria-labelledby="room-releases">
      <h2 id="room-releases">Who sees results</h2>
      <p>
        Before that a group hears whether its trials are usable, not what they come to. Released are the time
        constants of its own recordings and its feedback.
      </p>
      <p className="room-field room-who">
        <label htmlFor="room-who">Your initials</label>
        <input id="room-who" value={who} maxLength={60} onChange={(event) => setWho(event.target.value)} />
      </p>
      {deed.error !== null && <Hindrance error={deed.error} />}
      {releases.error !== null && <Hindrance error={releases.error} again={releases.again} />}
      <ul className="plain">
        {(releases.data?.sections ?? []).map((standing) => (
          <li key={standing.section ?? ''}>
            {wordsOf(standing)}{' '}
            <button
              type="button"
              className="word"
              disabled={deed.does || who.trim() === ''}
              aria-label={`${standing.released ? 'take back' : 'release'} the results of ${nameOf(standing.section)}`}
              onClick={() => {
                deed.go({ section: standing.section, released: !standing.released, who: who.trim() });
              }}
            >
              {standing.released ? 'take back' : 'release'}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function nameOf(section: string | null): string {
  return section === null ? 'the class' : `section ${section}`;
}

function wordsOf({ section, released, at, who }: ReleasesView['sections'][number]): string {
  const name = nameOf(section);
  const whole = `${name.charAt(0).toUpperCase()}${name.slice(1)}`;
  if (at === null) return `${whole}: not released.`;
  const since = `${clock.format(new Date(at))}, ${who ?? ''}`;
  return released ? `${whole}: released (${since}).` : `${whole}: taken back (${since}).`;
}

const clock = new Intl.DateTimeFormat('en-GB', { timeStyle: 'short', dateStyle: 'medium' });

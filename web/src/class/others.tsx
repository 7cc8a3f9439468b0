import { Link } from 'wouter';
import type { ClassView } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { Sentence } from '../frame/sentence.tsx';

/** Most entries of one kind before the rest is only counted. */
const most = 40;

interface Entry {
  readonly paths: readonly string[];
  readonly words: string;
}

/** Traces handed in twice, chains set differently, guests and make-up sessions, and what does not count. */
export function Others({ view, projector }: { readonly view: ClassView; readonly projector: boolean }) {
  if (projector) return null;
  const said = (things: readonly { readonly paths: readonly string[]; readonly sentence: string }[]) =>
    things.map(({ paths, sentence }) => ({ paths, words: sentence }));
  return (
    <>
      <Part
        id="same-traces"
        title="Same traces"
        entries={view.sameTraces
          // The others stand among those who should look again.
          .filter(({ acrossGroups, borrowed }) => borrowed || !acrossGroups)
          .map(({ paths, term, sentence }) => ({
            paths: term === null ? paths : paths.slice(1),
            words: sentence,
          }))}
      />
      <Part id="chains" title="Sensor chains set differently" entries={said(view.chains)} />
      <Part id="visits" title="Guests, other benches, make-up sessions" entries={said(view.visits)} />
      <Part
        id="left"
        title="What does not count"
        entries={view.left.map(({ path, reason }) => ({ paths: [path], words: reason }))}
      />
    </>
  );
}

function Part({
  id,
  title,
  entries,
}: {
  readonly id: string;
  readonly title: string;
  readonly entries: readonly Entry[];
}) {
  if (entries.length === 0) return null;
  return (
    <section className="part" aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      <dl className="class-words">
        {entries.slice(0, most).map(({ paths, words }) => (
          <div key={`${paths.join(' ')} ${words}`}>
            <dt>
              {paths.slice(0, 2).map((path) => (
                <Link key={path} href={`/recordings/${inAddress(path)}`}>
                  {shortPath(path)}
                </Link>
              ))}
              {paths.length > 2 && <span className="quiet">and {paths.length - 2} more</span>}
            </dt>
            <dd>
              <Sentence>{words}</Sentence>
            </dd>
          </div>
        ))}
      </dl>
      {entries.length > most && <p>and {entries.length - most} more</p>}
    </section>
  );
}

function shortPath(path: string): string {
  return path.replace(/^recordings\//, '');
}

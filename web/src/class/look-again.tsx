import { useState } from 'react';
import { Link } from 'wouter';
import type { ClassView } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { Sentence } from '../frame/sentence.tsx';
import { kindWords } from './words.ts';

/** More would push the figures out of sight; the rest is a word away. */
const mostShown = 9;
/** Most recordings that are named under one reason. */
const mostPaths = 4;

/** Who is asked to look again, the weightiest reason first. A class sees only how many they are. */
export function LookAgain({
  view: { lookAgain },
  projector,
}: {
  readonly view: ClassView;
  readonly projector: boolean;
}) {
  const [all, setAll] = useState(false);
  const count = lookAgain.length === 1 ? 'One reason' : `${lookAgain.length} reasons`;
  if (projector || lookAgain.length === 0) {
    return (
      <section className="part" aria-labelledby="look-again">
        <h2 id="look-again">{lookAgain.length === 0 ? 'Nobody lies apart' : `${count} to look again`}</h2>
        {lookAgain.length === 0 && <p className="quiet">Whatever differs here, chance explains.</p>}
      </section>
    );
  }
  const shown = all ? lookAgain : lookAgain.slice(0, mostShown);
  return (
    <section className="part" aria-labelledby="look-again">
      <h2 id="look-again">{count} to look again</h2>
      <ol className="class-again plain">
        {shown.map(({ kind, groups, paths, sentence }) => (
          <li key={`${kind} ${paths.join(' ')} ${sentence}`} className="note">
            <p className="strong">
              {groups.join(' and ')}: {kindWords[kind]}
            </p>
            <p>
              <Sentence>{sentence}</Sentence>
            </p>
            <ul className="plain class-paths">
              {paths.slice(0, mostPaths).map((path) => (
                <li key={path}>
                  <Link href={`/recordings/${inAddress(path)}`}>{path.replace(/^recordings\//, '')}</Link>
                </li>
              ))}
              {paths.length > mostPaths && <li className="quiet">and {paths.length - mostPaths} more</li>}
            </ul>
          </li>
        ))}
      </ol>
      {lookAgain.length > mostShown && (
        <button type="button" className="word" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? `only the first ${mostShown}` : `all ${lookAgain.length}`}
        </button>
      )}
      <p className="quiet small class-under">
        Nobody knows who is right: whoever lies apart may be the one that measured well. A class with nothing
        amiss has somebody here about once in twenty times.
      </p>
    </section>
  );
}

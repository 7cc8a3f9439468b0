/** A group's own bench: what to do now, what is recorded and what is left, handing in, and the feedback. */
import { useEffect } from 'react';
import { ProblemError } from '../api/calls.ts';
import { asking } from './asking.ts';
import { Feedback } from './feedback.tsx';
import { HandIn } from './hand-in.tsx';
import { Hindrance } from './hindrance.tsx';
import { Now } from './now.tsx';
import { Recorded } from './recorded.tsx';
import { useAsked } from './use-asked.ts';
import { useOwnBench } from './use-own-bench.ts';
import { Values } from './values.tsx';
import { benchWords, sessionWords } from './words.ts';

/** @param lost told when nobody is signed in any more */
export function Bench({ lost }: { readonly lost: () => void }) {
  const { data: mine, error, again } = useAsked(asking.mine);
  const { now, lostSince } = useOwnBench(again);
  const signedOut = error instanceof ProblemError && error.problem.status === 401;
  useEffect(() => {
    if (signedOut) lost();
  }, [signedOut, lost]);

  if (mine === null) {
    if (error !== null && !signedOut) return <Hindrance error={error} again={again} />;
    return (
      <p className="waiting quiet" role="status">
        Opening your bench …
      </p>
    );
  }
  const course = mine.course === null ? null : <p className="quiet">{mine.course}</p>;
  return (
    <>
      <header className="flow">
        <h1>{benchWords(mine)}</h1>
        {course}
        <p>{sessionWords(mine, now)}</p>
        {lostSince !== null && (
          <p role="status" className="strong">
            The connection is lost; what you see is of {lostSince}. The page connects again by itself.
          </p>
        )}
      </header>
      <Now now={now} protocol={mine.protocol} />
      {mine.released && <Feedback />}
      <Recorded mine={mine} />
      <HandIn mine={mine} handedIn={again} />
      <Values mine={mine} handedIn={again} />
      <section className="flow room-part" aria-labelledby="paper">
        <h2 id="paper">On paper</h2>
        <p>
          <a href="/api/mine/bench-sheet" download="bench-sheet.pdf">
            the bench sheet, PDF
          </a>
          : the order of the trials, and blanks for everything that no file holds.
        </p>
      </section>
    </>
  );
}

/** What can be done with marks that were moved, and with the recording as a whole. */
import { useState } from 'react';
import type { Decision, Marks } from '../../../src/server/contract/index.ts';
import { Decide } from './decide.tsx';
import { nothingMarked, sameMarks } from './marks.ts';
import { Said } from './said.tsx';

type Asked = 'keep' | 'reject';

export function Deeds({
  path,
  moved,
  setMoved,
  kept,
  rejection,
}: {
  readonly path: string;
  /** Marks as moved and not yet kept; null where none were. */
  readonly moved: Marks | null;
  readonly setMoved: (marks: Marks | null) => void;
  /** The marks of the decision that counts. */
  readonly kept: Marks;
  readonly rejection: Decision | null;
}) {
  const [asking, setAsking] = useState<Asked | null>(null);
  /** The form that was left without deciding: its word has the focus again. */
  const [left, setLeft] = useState<Asked | null>(null);
  /** What was done last, and the marks that it left; once they are moved on, it is old. */
  const [said, setSaid] = useState<{ readonly words: string; readonly marks: Marks | null } | null>(null);
  const leave = () => {
    setLeft(asking);
    setAsking(null);
  };
  const put = (marks: Marks | null, words: string) => {
    setMoved(marks);
    setSaid({ words, marks });
  };

  if (asking === 'keep' && moved !== null) {
    return (
      <Decide
        path={path}
        title="Keep these marks"
        deed="keep"
        request={(who, why) => ({ kind: 'marks', marks: moved, who, why })}
        example="the nozzle touched the sphere until 14 s"
        done={() => {
          setAsking(null);
          put(null, 'Kept. These marks count now.');
        }}
        leave={leave}
      />
    );
  }
  if (asking === 'reject') {
    return (
      <Decide
        path={path}
        title="Take this recording out"
        deed="take out"
        request={(who, why) => ({ kind: 'reject', who, why })}
        example="the sphere slipped off the junction"
        done={() => {
          setAsking(null);
          setSaid({ words: 'Taken out. It no longer goes into the comparison.', marks: moved });
        }}
        leave={leave}
      />
    );
  }
  return (
    <>
      {said !== null && said.marks === moved && <Said said={said} />}
      <p className="words">
        {moved !== null && (
          <>
            <button
              type="button"
              className="deed"
              onClick={() => setAsking('keep')}
              // biome-ignore lint/a11y/noAutofocus: the focus comes back from the form that this word opened
              autoFocus={left === 'keep'}
              onFocus={() => setLeft(null)}
            >
              keep this
            </button>
            <button
              type="button"
              className="word"
              onClick={() => put(null, 'The marks are back to what counts now.')}
            >
              back to what counts now
            </button>
          </>
        )}
        {!sameMarks(moved ?? kept, nothingMarked) && !sameMarks(kept, nothingMarked) && (
          <button
            type="button"
            className="word"
            onClick={() => put(nothingMarked, 'The marks are back to what was found; that is not kept yet.')}
          >
            back to what was found
          </button>
        )}
        {rejection === null && (
          <button
            type="button"
            className="word"
            onClick={() => setAsking('reject')}
            // biome-ignore lint/a11y/noAutofocus: the focus comes back from the form that this word opened
            autoFocus={left === 'reject'}
            onFocus={() => setLeft(null)}
          >
            take this recording out
          </button>
        )}
      </p>
    </>
  );
}

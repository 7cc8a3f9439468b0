import { useState } from 'react';
import { Link } from 'wouter';
import { Sentence } from '../frame/sentence.tsx';
import { useNames } from '../frame/use-names.ts';
import type { Need } from './decisions.ts';
import { addressOf } from './entry.tsx';

const words = {
  unreadable: 'cannot be read',
  repeat: 'repeat',
  idle: 'decision',
  apart: 'stands apart',
  copy: 'copy',
  unplaced: 'no place',
} as const;

/** More would push the grid out of sight; the rest is a word away. */
const mostShown = 8;

/** What waits for a person, first things first. */
export function Needs({
  needs,
  projector,
}: {
  readonly needs: readonly Need[];
  readonly projector: boolean;
}) {
  const [all, setAll] = useState(false);
  const names = useNames();
  const shown = all ? needs : needs.slice(0, mostShown);
  return (
    <>
      <ol className="needs plain">
        {shown.map((need) => (
          <li key={`${need.kind} ${need.path}`} className="note">
            <p>
              {need.recording === null ? (
                <span className="strong">{projector ? 'a file' : need.path}</span>
              ) : (
                <Link href={addressOf(need.path)} className="strong">
                  {names.of(need.recording.place, need.path)}
                </Link>
              )}
            </p>
            <p>
              <span className="strong">{words[need.kind]}: </span>
              <Sentence>{need.why}</Sentence>
            </p>
            <p className="quiet">{need.deed}</p>
          </li>
        ))}
      </ol>
      {needs.length > mostShown && (
        <button type="button" className="word needs-all" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? `only the first ${mostShown}` : `all ${needs.length}`}
        </button>
      )}
    </>
  );
}

import { useState } from 'react';
import { Link } from 'wouter';
import { recordingName } from '../frame/names.ts';
import type { Need } from './decisions.ts';
import { addressOf } from './entry.tsx';

const words = {
  unreadable: 'cannot be read',
  repeat: 'repeat',
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
                  {recordingName(need.recording.place, need.path, projector)}
                </Link>
              )}
            </p>
            <p>
              <span className="strong">{words[need.kind]}: </span>
              {projector && (need.kind === 'copy' || need.kind === 'unplaced')
                ? 'see the list without projector'
                : need.why}
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

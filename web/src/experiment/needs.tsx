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

/** What waits for a person, first things first. */
export function Needs({
  needs,
  projector,
}: {
  readonly needs: readonly Need[];
  readonly projector: boolean;
}) {
  return (
    <ol className="needs plain">
      {needs.map((need) => (
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
  );
}

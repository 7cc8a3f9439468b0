import { Link } from 'wouter';
import type { Summary } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { halfWidth, measuredWords } from '../frame/numbers.ts';
import { Sentence } from '../frame/sentence.tsx';
import { reasonWords } from './reason.ts';
import { Strip } from './strip.tsx';

/** Where a recording is read. */
export function addressOf(path: string): string {
  return `/recordings/${inAddress(path)}`;
}

/** A recording in a cell: its number, how straight it is, and its verdict in words and weight. */
export function Entry({ recording, name }: { readonly recording: Summary; readonly name: string }) {
  const { path, place, rejected, note } = recording;
  return (
    <div className={rejected ? 'entry entry-left-out' : 'entry'}>
      <Link href={addressOf(path)}>
        <span className="hidden-text">{name}: </span>
        {place.repeat !== null && place.repeat > 1 && (
          <span className="entry-number" aria-hidden="true">
            repeat {place.repeat}
          </span>
        )}
        <span className="entry-value">{valueWords(recording)}</span>
        <Strip recording={recording} />
      </Link>
      <Verdict recording={recording} />
      {note !== null && (
        <p className="entry-verdict strong">
          <Sentence>{note}</Sentence>
        </p>
      )}
    </div>
  );
}

function valueWords({ state, timeConstant }: Summary): string {
  if (state === 'waiting') return 'waiting';
  if (state === 'writing') return 'recording';
  if (state === 'unreadable') return 'unreadable';
  if (timeConstant === null) return 'no value';
  const { value, uncertainty, scale } = measuredWords(
    timeConstant.value,
    halfWidth(timeConstant.interval),
    '',
  );
  return `${value} ± ${uncertainty}${scale}`;
}

function Verdict({ recording }: { readonly recording: Summary }) {
  const { state, verdict, rejected, decided, message } = recording;
  if (rejected) return <p className="entry-verdict">left out by a person</p>;
  if (state === 'waiting') return null;
  if (state === 'writing') return <p className="entry-verdict quiet">still being written</p>;
  if (state === 'unreadable') {
    return (
      <p className="entry-verdict strong">
        <Sentence>{message ?? 'look at the file'}</Sentence>
      </p>
    );
  }
  const by = decided ? ', marked by a person' : '';
  if (verdict === 'usable') return <p className="entry-verdict quiet">usable{by}</p>;
  const reason = reasonWords(recording);
  if (verdict === 'usable-with-remarks') {
    return (
      <p className="entry-verdict">
        {reason === '' ? 'usable, with remarks' : `usable, but ${reason}`}
        {by}
      </p>
    );
  }
  return (
    <p className="entry-verdict entry-repeat">
      {reason === '' ? 'repeat' : `repeat: ${reason}`}
      {by}
    </p>
  );
}

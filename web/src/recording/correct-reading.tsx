/** How the file of a recording is read, and saying it better than the file does. */
import { useState } from 'react';
import type { FileReading } from '../../../src/server/contract/index.ts';
import { Correct } from '../add/correct.tsx';
import { Understood } from '../add/understood.tsx';
import { useReading, useTryReading } from '../api/queries.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';
import { Decide } from './decide.tsx';
import { History } from './history.tsx';

/** @param unread whether what is in the way stands above already, and what was decided stands nowhere else */
export function CorrectReading({
  path,
  projector,
  unread,
}: {
  readonly path: string;
  readonly projector: boolean;
  readonly unread: boolean;
}) {
  const kept = useReading(path);
  const attempt = useTryReading(path);
  const [asking, setAsking] = useState(false);
  if (kept.data === undefined) {
    return kept.isError ? (
      <Trouble error={kept.error} again={() => void kept.refetch()} />
    ) : (
      <Waiting what="the first rows" />
    );
  }
  const reading = attempt.data ?? kept.data;
  const other = attempt.data !== undefined && !sameOptions(attempt.data, kept.data);
  return (
    <div className="flow">
      <Understood reading={reading} troubleSaid={unread && attempt.data === undefined} />
      <Correct
        reading={reading}
        again={(options) => {
          setAsking(false);
          attempt.mutate(options);
        }}
        pending={attempt.isPending}
        error={attempt.error}
      />
      {other && reading.understood !== null && !asking && (
        <p className="words">
          <button type="button" className="deed" onClick={() => setAsking(true)}>
            read it so from now on
          </button>
          <button type="button" className="word" onClick={() => attempt.reset()}>
            back to what counts now
          </button>
        </p>
      )}
      {other && asking && (
        <Decide
          path={path}
          title="Read it so from now on"
          deed="keep"
          request={(who, why) => ({ kind: 'reading', read: reading.options, who, why })}
          whyNeeded={false}
          example="the logger writes no sampling rate"
          done={() => {
            setAsking(false);
            attempt.reset();
          }}
          leave={() => setAsking(false)}
        />
      )}
      {unread && kept.data.decisions.length > 0 && (
        <History path={path} decisions={kept.data.decisions} projector={projector} />
      )}
    </div>
  );
}

function sameOptions(a: FileReading, b: FileReading): boolean {
  const text = ({ options }: FileReading) =>
    JSON.stringify(Object.entries(options).sort(([one], [other]) => one.localeCompare(other)));
  return text(a) === text(b);
}

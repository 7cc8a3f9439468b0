import type { CallView, TileView } from '../../../src/server/contract/index.ts';
import { Sentence } from '../frame/sentence.tsx';
import { isUrgent, shownCalls } from './urgent.ts';
import { calledWords } from './words.ts';

/** Whom to walk to and why, the most urgent first. It is for whoever teaches: a class sees how many only. */
export function Calls({
  calls,
  tiles,
  idOf,
  projector,
}: {
  readonly calls: readonly CallView[];
  readonly tiles: readonly TileView[];
  readonly idOf: (bench: string) => string;
  readonly projector: boolean;
}) {
  if (calls.length === 0) return <p className="quiet">Nobody needs you now.</p>;
  if (projector) {
    return <p>{calls.length === 1 ? 'One bench needs' : `${calls.length} benches need`} somebody to come.</p>;
  }
  const { first, rest } = shownCalls(calls);
  const listed = (some: readonly CallView[]) => (
    <ol className="plain floor-calls">
      {some.map((call) => (
        <li key={call.bench} className={isUrgent(call) ? 'floor-urgent' : undefined}>
          <a href={`#${idOf(call.bench)}`}>{calledWords(call, tiles)}</a>
          {isUrgent(call) && <span className="strong"> at once</span>}: <Sentence>{call.why}</Sentence>
        </li>
      ))}
    </ol>
  );
  return (
    <>
      {listed(first)}
      {rest.length > 0 && (
        <details className="floor-later">
          <summary>
            and {rest.length} more that can wait: {rest.map((call) => calledWords(call, tiles)).join(', ')}
          </summary>
          {listed(rest)}
        </details>
      )}
    </>
  );
}

/** Says calls that have come, once each, to whoever listens in place of looking. */
export function SpokenCalls({
  fresh,
  tiles,
  projector,
}: {
  readonly fresh: readonly CallView[];
  readonly tiles: readonly TileView[];
  readonly projector: boolean;
}) {
  return (
    <div className="hidden-text" aria-live="polite" role="log" aria-label="Calls">
      {!projector &&
        fresh.map((call) => (
          <p key={`${call.bench} ${call.urgency}`}>
            {calledWords(call, tiles)}: <Sentence>{call.why}</Sentence>
          </p>
        ))}
    </div>
  );
}

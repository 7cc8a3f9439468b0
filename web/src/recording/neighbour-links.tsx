/** Ways from a recording to those next to it. */
import { Link } from 'wouter';
import type { PlaceView, Summary } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { useRecordings } from '../api/queries.ts';
import { conditionWords } from '../frame/names.ts';
import { halfWidth, measuredWords } from '../frame/numbers.ts';
import { useNames } from '../frame/use-names.ts';
import { neighboursOf } from './neighbours.ts';

export function NeighbourLinks({
  path,
  place,
  projector,
}: {
  readonly path: string;
  readonly place: PlaceView;
  readonly projector: boolean;
}) {
  const { data } = useRecordings();
  const { condition, group } = neighboursOf(path, place, data?.recordings ?? []);
  if (condition.length + group.length === 0) return null;
  return (
    <nav className="flow" aria-labelledby="neighbours">
      <h2 id="neighbours">Next to it</h2>
      <Row title={`the same condition, ${conditionWords(place.body, place.flow)}`} recordings={condition} />
      <Row title={projector ? 'the same group' : `the same group, ${place.group ?? ''}`} recordings={group} />
    </nav>
  );
}

function Row({ title, recordings }: { readonly title: string; readonly recordings: readonly Summary[] }) {
  const names = useNames();
  if (recordings.length === 0) return null;
  return (
    <div>
      <p className="quiet small">{title}</p>
      <ul className="plain neighbours">
        {recordings.map((recording) => (
          <li key={recording.path}>
            <Link href={`/recordings/${inAddress(recording.path)}`}>
              {names.of(recording.place, recording.path)}
            </Link>{' '}
            <span className="quiet small">{resultWords(recording)}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

function resultWords({ timeConstant, state, verdict, rejected }: Summary): string {
  if (state === 'waiting') return 'being analyzed';
  if (state === 'writing') return 'still being written';
  if (state === 'unreadable') return 'cannot be read';
  if (rejected) return 'taken out';
  if (timeConstant === null) return 'no time constant';
  const words = measuredWords(timeConstant.value, halfWidth(timeConstant.interval), 's').text;
  return verdict === 'repeat' ? `${words}, repeat` : words;
}

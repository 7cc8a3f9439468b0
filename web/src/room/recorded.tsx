/** The recordings that are there, each with what it is worth in words, and those that are left. */
import type { MineRecording, MineView } from '../../../src/server/contract/index.ts';
import { Said } from '../frame/said.tsx';
import { conditionWords } from './words.ts';

export function Recorded({ mine }: { readonly mine: MineView }) {
  const { conditions, recordings, protocol } = mine;
  const left = conditions.filter(({ done }) => done < protocol.repeats);
  const others = recordings.filter(
    (one) => !conditions.some(({ body, flow }) => body === one.body && flow === one.flow),
  );
  return (
    <section className="room-part flow" aria-labelledby="recorded">
      <h2 id="recorded">Recordings</h2>
      <p>{leftWords(left.length, conditions.length, protocol.repeats)}</p>
      <ol className="plain room-conditions">
        {conditions.map((one) => (
          <Condition
            key={`${one.body} ${one.flow}`}
            condition={one}
            repeats={protocol.repeats}
            recordings={recordings.filter(({ body, flow }) => body === one.body && flow === one.flow)}
          />
        ))}
      </ol>
      {others.length > 0 && (
        <>
          <h3>Not of the plan</h3>
          <Recordings recordings={others} />
        </>
      )}
    </section>
  );
}

function leftWords(left: number, all: number, repeats: number): string {
  if (all === 0) return 'The experiment file names nothing to record yet.';
  if (left === 0) return 'Everything of the plan is recorded.';
  const trials = repeats === 1 ? 'one trial' : `${repeats} trials`;
  return `${left} of ${all} conditions are not complete; ${trials} of each are asked for, in this order.`;
}

function Condition({
  condition: { body, flow, done, fits },
  repeats,
  recordings,
}: {
  readonly condition: MineView['conditions'][number];
  readonly repeats: number;
  readonly recordings: MineView['recordings'];
}) {
  const whole = done >= repeats;
  return (
    <li>
      <h3 className="room-condition">
        <span>{conditionWords(body, flow)}</span>
        <span className={whole ? 'quiet' : undefined}>
          {whole ? 'complete' : `${done} of ${repeats} done`}
          {!fits && !whole ? ', no time is planned for it' : ''}
        </span>
      </h3>
      {recordings.length > 0 && <Recordings recordings={recordings} />}
    </li>
  );
}

function Recordings({ recordings }: { readonly recordings: readonly MineRecording[] }) {
  return (
    <ul className="plain room-recordings">
      {recordings.map((one) => (
        <Recording key={one.path} one={one} />
      ))}
    </ul>
  );
}

/** What asks for another trial comes in weight, with a line of its own. */
function Recording({ one: { name, state, words, remarks } }: { readonly one: MineRecording }) {
  const again = state === 'repeat' || state === 'unreadable';
  // The reason of a repeat stands in the words already.
  const beside = remarks.filter(({ message }) => !words.includes(message));
  const reasons = remarks.filter(({ message, action }) => words.includes(message) && action !== null);
  return (
    <li className={again ? 'room-again' : undefined}>
      <p>
        <span className="quiet">{name}: </span>
        <span className={again ? 'strong' : undefined}>
          <Said>{words}</Said>
        </span>
        {reasons.map(({ action }) => (
          <span key={action}>
            {' '}
            <Said>{action ?? ''}</Said>
          </span>
        ))}
      </p>
      {beside.map(({ message, action }) => (
        <p className="small room-remark" key={message}>
          <Said>{action === null ? message : `${message} ${action}`}</Said>
        </p>
      ))}
    </li>
  );
}

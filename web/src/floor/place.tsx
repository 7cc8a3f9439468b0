/** The bench floor while a session runs: a tile a bench, whom to walk to, and the session against its plan. */
import './place.css';
import type { FloorView } from '../../../src/server/contract/index.ts';
import { useProjector } from '../frame/projector.ts';
import { useTitle } from '../frame/title.ts';
import { TroubleSaid } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';
import { Calls, SpokenCalls } from './calls.tsx';
import { classOrder } from './class-order.ts';
import { Session } from './session.tsx';
import { Tile } from './tile.tsx';
import { isUrgent } from './urgent.ts';
import { useFloor, useNewCalls, useSound } from './use-floor.ts';
import { isHot, timeOfDay } from './words.ts';

export default function FloorPlace() {
  const { view, lostSince } = useFloor();
  const fresh = useNewCalls(view);
  const sound = useSound(fresh);
  const { projector } = useProjector();
  const urgent = view?.calls.filter(isUrgent).length ?? 0;
  useTitle(urgent === 0 ? 'floor' : `(${urgent}) floor`);
  return (
    <div className="floor">
      <div className="floor-top">
        <h1>The bench floor</h1>
        <p className="quiet">
          {view !== null && lostSince === null && `watching, ${timeOfDay(Date.parse(view.at))}`}
        </p>
        <button type="button" className="word" onClick={sound.change}>
          {sound.on ? 'turn sound off' : 'turn on sound for urgent calls'}
        </button>
      </div>
      {lostSince !== null && <Lost since={lostSince} shown={view !== null} />}
      {view === null ? lostSince === null && <Waiting what="the benches" /> : <Benches view={view} />}
      <SpokenCalls fresh={fresh} tiles={view?.benches ?? []} projector={projector} />
    </div>
  );
}

/** With more, each tile says less: all of them are to be seen at once. */
const fewBenches = 6;

function Benches({ view }: { readonly view: FloorView }) {
  const { projector } = useProjector();
  const { benches, names, calls, session, trouble } = view;
  const idOf = (bench: string) => `bench-${names.indexOf(bench) + 1}`;
  if (trouble !== null) {
    return <TroubleSaid title="The benches cannot be watched" detail={trouble.message} mend={trouble.mend} />;
  }
  const many = benches.length > fewBenches;
  const begun = benches.some(({ path }) => path !== null);
  return (
    <>
      <div className="floor-overview">
        <section className="flow" aria-labelledby="floor-calls">
          <h2 id="floor-calls">Walk to</h2>
          <Calls calls={calls} tiles={benches} idOf={idOf} projector={projector} />
        </section>
        <section className="flow" aria-labelledby="floor-session">
          <h2 id="floor-session">The session</h2>
          {begun ? (
            <Session session={session} projector={projector} />
          ) : (
            <p>
              No session yet. A bench shows here by itself as soon as its logger writes a file to where the
              experiment file says that recordings are.
            </p>
          )}
        </section>
      </div>
      {benches.some(isHot) && <Care />}
      <div className={many ? 'floor-tiles floor-many' : 'floor-tiles'}>
        {(projector ? classOrder(benches) : benches).map((tile) => (
          <Tile
            key={tile.bench}
            tile={tile}
            id={idOf(tile.bench)}
            projector={projector}
            brief={many && !projector}
          />
        ))}
      </div>
    </>
  );
}

/** What to take care of where somebody heats, or has something hot before them. */
function Care() {
  return (
    <p className="floor-care">
      <span className="strong">Take care:</span> hot air and the jet are aimed at nobody, eyes are protected,
      hands stay off the hot body and out of the jet, nothing that burns lies near, and no heater is left
      alone. The rules of your house come first.
    </p>
  );
}

function Lost({ since, shown }: { readonly since: number; readonly shown: boolean }) {
  return (
    <div className="trouble" role="alert">
      <p>
        <span className="strong">Connection lost at {timeOfDay(since)}.</span>{' '}
        {shown && 'What you see is from then: look at the benches themselves. '}
        The page connects again by itself. If it does not, see whether the command in the terminal still runs.
      </p>
    </div>
  );
}

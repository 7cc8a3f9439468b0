/**
 * What stands around every place: a way past the top line, the top line of words, and the place itself in
 * <main>. A place begins with its own <h1> and calls `useTitle`.
 */
import './frame.css';
import { type ReactNode, useEffect, useRef } from 'react';
import { Link, useLocation } from 'wouter';
import type { SessionView } from '../../../src/server/contract/index.ts';
import { calls } from '../api/calls.ts';
import { useExperiment, useServerEvents } from '../api/queries.ts';
import { useProjector, useProjectorAddress } from './projector.ts';
import { useTheme } from './theme.ts';

/** Ways to the places; the server says by their names which of them are open to whoever is signed in. */
const places = ['experiment', 'plan', 'compare', 'class', 'add', 'floor', 'rig', 'submissions'];

export function Frame({
  session,
  children,
}: {
  readonly session: SessionView;
  readonly children: ReactNode;
}) {
  const [location] = useLocation();
  const { theme, change: changeTheme } = useTheme();
  const { projector, change: changeProjector } = useProjector();
  const open = places.filter((name) => session.places.includes(name));
  const display = session.caller?.role === 'display';
  const main = useRef<HTMLElement>(null);
  const before = useRef(location);
  useProjectorAddress();

  // A new place is read from its beginning, by eye and by screen reader.
  useEffect(() => {
    if (before.current === location) return;
    before.current = location;
    main.current?.focus({ preventScroll: true });
    window.scrollTo(0, 0);
  }, [location]);

  return (
    <>
      <a className="skip" href="#place">
        to the content
      </a>
      <header className="top not-on-paper">
        <nav aria-label="Places">
          <ul className="words plain">
            {open.map((name) => {
              const href = name === 'experiment' ? '/' : `/${name}`;
              return (
                <li key={name}>
                  <Link href={href} aria-current={location === href ? 'page' : undefined}>
                    {name === 'add' ? 'add recordings' : name}
                  </Link>
                </li>
              );
            })}
            {session.places.includes('room') && (
              <li>
                {/* Another program of the same server. */}
                <a href="/room">room</a>
              </li>
            )}
          </ul>
        </nav>
        <div className="words">
          <button type="button" className="word" onClick={changeTheme}>
            {theme === 'dark' ? 'light' : 'dark'}
          </button>
          {!display && (
            <button type="button" className="word" aria-pressed={projector} onClick={changeProjector}>
              {projector ? 'leave projector view' : 'projector'}
            </button>
          )}
          {session.room && (
            <button type="button" className="word" onClick={() => void leave()}>
              sign out
            </button>
          )}
        </div>
      </header>
      <main id="place" ref={main} tabIndex={-1}>
        {children}
      </main>
      <footer className="foot quiet small not-on-paper">
        {display ? (
          <p>Emberline</p>
        ) : (
          <Foot
            where={
              session.room
                ? `signed in as ${session.caller?.label ?? ''}`
                : 'everything stays on this computer'
            }
          />
        )}
      </footer>
    </>
  );
}

/** What only those hear who may know the folder. */
function Foot({ where }: { readonly where: string }) {
  const { data: experiment } = useExperiment();
  useServerEvents();
  return (
    <p>
      Emberline{experiment !== undefined && ` ${experiment.version}, folder ${experiment.folder}`}, {where}.
    </p>
  );
}

async function leave(): Promise<void> {
  await calls.signOut().catch(() => undefined);
  window.location.assign('/');
}

/**
 * What stands around every place: a way past the top line, the top line of words, and the place itself in
 * <main>. A place begins with its own <h1> and calls `useTitle`.
 */
import './frame.css';
import { type ReactNode, useEffect, useRef } from 'react';
import { Link, useLocation } from 'wouter';
import { useExperiment, useServerEvents } from '../api/queries.ts';
import { useProjector, useProjectorAddress } from './projector.ts';
import { useTheme } from './theme.ts';

const places = [
  { href: '/', word: 'experiment' },
  { href: '/plan', word: 'plan' },
  { href: '/compare', word: 'compare' },
  { href: '/class', word: 'class' },
  { href: '/add', word: 'add recordings' },
  { href: '/floor', word: 'floor' },
  { href: '/rig', word: 'rig' },
  { href: '/submissions', word: 'submissions' },
] as const;

export function Frame({ children }: { readonly children: ReactNode }) {
  const [location] = useLocation();
  const { theme, change: changeTheme } = useTheme();
  const { projector, change: changeProjector } = useProjector();
  const { data: experiment } = useExperiment();
  const main = useRef<HTMLElement>(null);
  const before = useRef(location);
  useProjectorAddress();
  useServerEvents();

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
            {places.map(({ href, word }) => (
              <li key={href}>
                <Link href={href} aria-current={location === href ? 'page' : undefined}>
                  {word}
                </Link>
              </li>
            ))}
          </ul>
        </nav>
        <div className="words">
          <button type="button" className="word" onClick={changeTheme}>
            {theme === 'dark' ? 'light' : 'dark'}
          </button>
          <button type="button" className="word" aria-pressed={projector} onClick={changeProjector}>
            {projector ? 'leave projector view' : 'projector'}
          </button>
        </div>
      </header>
      <main id="place" ref={main} tabIndex={-1}>
        {children}
      </main>
      <footer className="foot quiet small not-on-paper">
        <p>
          {experiment === undefined
            ? 'Emberline'
            : `Emberline ${experiment.version}, folder ${experiment.folder}`}
          . Everything stays on this computer.
        </p>
      </footer>
    </>
  );
}

/** The page of a room: who is not signed in signs in, a group sees its bench, the instructor who may come in. */
import { useTheme } from '../frame/theme.ts';
import { asking } from './asking.ts';
import { Bench } from './bench.tsx';
import { Codes } from './codes.tsx';
import { Hindrance } from './hindrance.tsx';
import { SignIn } from './sign-in.tsx';
import { useAsked } from './use-asked.ts';

export function Room() {
  const session = useAsked(asking.session);
  const { theme, change } = useTheme();
  const caller = session.data?.caller ?? null;
  const group = caller?.role === 'group' ? caller.group : null;

  const signOut = () => {
    asking.signOut().then(session.take, session.again);
  };
  return (
    <>
      <a className="skip" href="#place">
        to the content
      </a>
      <header className="top room-top not-on-paper">
        <p className="strong">{group === null ? 'Emberline' : `Group ${group}`}</p>
        <div className="words">
          {caller?.role === 'instructor' && <a href="/">workbench</a>}
          <button type="button" className="word" onClick={change}>
            {theme === 'dark' ? 'light' : 'dark'}
          </button>
          {caller !== null && (
            <button type="button" className="word" onClick={signOut}>
              sign out
            </button>
          )}
        </div>
      </header>
      <main id="place" tabIndex={-1} className="room">
        {session.data === null ? (
          session.error === null ? (
            <p className="waiting quiet" role="status">
              Opening …
            </p>
          ) : (
            <Hindrance error={session.error} again={session.again} />
          )
        ) : caller?.role === 'instructor' ? (
          <Codes />
        ) : group === null ? (
          <SignIn />
        ) : (
          <Bench key={group} lost={session.again} />
        )}
      </main>
    </>
  );
}

import { Link } from 'wouter';
import { useTitle } from './title.ts';

/** For an address that no place has. */
export function NotHere() {
  useTitle('nothing here');
  return (
    <div className="flow">
      <h1>There is nothing at this address</h1>
      <p>
        A recording may have been moved or renamed. <Link href="/">Go to the experiment</Link>, where every
        recording is listed.
      </p>
    </div>
  );
}

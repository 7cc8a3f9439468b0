import { useId } from 'react';
import { Trouble } from '../frame/trouble.tsx';
import type { Basis } from './use-basis.ts';

/** Whether the session is planned by theory or by what recordings showed. */
export function ChooseBasis({ basis }: { readonly basis: Basis }) {
  const { byMeasured, count, error, again, choose } = basis;
  const name = useId();
  const option = (measured: boolean, words: string) => (
    <label>
      <input type="radio" name={name} checked={byMeasured === measured} onChange={() => choose(measured)} />{' '}
      {words}
    </label>
  );
  return (
    <>
      <fieldset className="plan-basis">
        <legend>Order and fit by</legend>
        {option(false, 'expected time constants')}
        {option(true, 'measured ones, where there are any')}
      </fieldset>
      {error !== null && <Trouble error={error} again={again} />}
      {byMeasured && error === null && (
        <p className="quiet small" role="status">
          {saidOf(count)}
        </p>
      )}
    </>
  );
}

function saidOf(count: number | null): string {
  if (count === null) return 'The recordings are being compared; until then the plan goes by theory.';
  if (count === 0) return 'No recording counts yet: the plan goes by theory.';
  return `${count === 1 ? 'One condition has' : `${count} conditions have`} recordings that count. Where a change below alters what theory expects, the measured value is altered in the same ratio.`;
}

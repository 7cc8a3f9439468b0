import { useId } from 'react';
import { Trouble } from '../frame/trouble.tsx';
import type { Basis, BasisKind } from './use-basis.ts';

/** Whether the session is planned by theory, by what recordings showed, or by the rig's own correlation. */
export function ChooseBasis({ basis }: { readonly basis: Basis }) {
  const { kind, error, again, choose } = basis;
  const name = useId();
  const option = (of: BasisKind, words: string) => (
    <label>
      <input type="radio" name={name} checked={kind === of} onChange={() => choose(of)} /> {words}
    </label>
  );
  return (
    <>
      <fieldset className="plan-basis">
        <legend>Order and fit by</legend>
        {option('theory', 'expected time constants')}
        {option('measured', 'measured ones, where there are any')}
        {option('rig', "the rig's own correlation, where it is surer")}
      </fieldset>
      {error !== null && <Trouble error={error} again={again} />}
      {kind !== 'theory' && error === null && (
        <p className="quiet small" role="status">
          {saidOf(basis)}
        </p>
      )}
    </>
  );
}

function saidOf({ kind, count, why }: Basis): string {
  const altered = 'Where a change below alters what theory expects, this value is altered in the same ratio.';
  if (kind === 'rig') {
    if (count === null) return 'The results are being put together; until then the plan goes by theory.';
    if (why !== null) return `The plan goes by theory. ${why}`;
    return `${count === 1 ? 'One condition lies' : `${count} conditions lie`} in the range of the rig's own correlation. ${altered}`;
  }
  if (count === null) return 'The recordings are being compared; until then the plan goes by theory.';
  if (count === 0) return 'No recording counts yet: the plan goes by theory.';
  return `${count === 1 ? 'One condition has' : `${count} conditions have`} recordings that count. Where a change below alters what theory expects, the measured value is altered in the same ratio.`;
}

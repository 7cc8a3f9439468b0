import type { FileReading } from '../../../src/server/contract/index.ts';
import { TroubleSaid } from '../frame/trouble.tsx';
import { FirstRows } from './first-rows.tsx';
import { understoodSentence } from './words.ts';

/** How a file was understood, or what is in the way, with its first rows. */
export function Understood({
  reading,
  troubleSaid = false,
}: {
  readonly reading: FileReading;
  /** Whether what is in the way is said elsewhere. */
  readonly troubleSaid?: boolean;
}) {
  const { understood, trouble } = reading;
  return (
    <>
      {understood !== null && <p>{understoodSentence(understood)}</p>}
      {trouble !== null && !troubleSaid && (
        <TroubleSaid
          title={`This file cannot be read yet${trouble.line === null ? '' : `: line ${trouble.line}`}`}
          detail={trouble.message}
          mend={trouble.mend}
        />
      )}
      <FirstRows reading={reading} />
    </>
  );
}

import type { FileReading } from '../../../src/server/contract/index.ts';
import { FirstRows } from './first-rows.tsx';
import { mendWords, understoodSentence } from './words.ts';

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
        <div className="trouble" role="alert">
          <p className="strong">
            This file cannot be read yet{trouble.line === null ? '' : `: line ${trouble.line}`}
          </p>
          <p>{mendWords(trouble.message)}</p>
          <p>{mendWords(trouble.mend)}</p>
        </div>
      )}
      <FirstRows reading={reading} />
    </>
  );
}

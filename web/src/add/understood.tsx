import type { FileReading } from '../../../src/server/contract/index.ts';
import { FirstRows } from './first-rows.tsx';
import { mendWords, understoodSentence } from './words.ts';

/** How a file was understood, or what is in the way, with its first rows. */
export function Understood({ reading }: { readonly reading: FileReading }) {
  const { understood, trouble } = reading;
  return (
    <>
      {understood !== null && <p>{understoodSentence(understood)}</p>}
      {trouble !== null && (
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

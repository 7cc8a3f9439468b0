/** The rig's own correlation of Nu and Re, in words. */
import { useRigCorrelation } from '../api/queries.ts';
import { Sentence } from '../frame/sentence.tsx';
import { Trouble } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';

export function OwnCorrelation() {
  const { data, error, refetch } = useRigCorrelation();
  return (
    <section className="flow" aria-labelledby="rig-correlation">
      <h2 id="rig-correlation">The rig's own correlation</h2>
      <p className="quiet small">
        Every time constant that counts in this and earlier terms, worked back to a Nusselt number. The plan
        can go by it where it is surer than theory.
      </p>
      {error !== null && <Trouble error={error} again={() => void refetch()} />}
      {data === undefined
        ? error === null && <Waiting what="the correlation" />
        : data.sentences.map((one) => (
            <p key={one}>
              <Sentence>{one}</Sentence>
            </p>
          ))}
    </section>
  );
}

import { Link } from 'wouter';
import { formatSignificant } from '../../../src/quantity/index.ts';
import { inAddress } from '../api/calls.ts';
import { groupName } from '../frame/names.ts';
import { Sentence } from '../frame/sentence.tsx';
import { type ConditionView, nameOf } from './compared.ts';

/** Every verdict in its sentence, and the recordings behind it. */
export function InWords({
  conditions,
  projector,
}: {
  readonly conditions: readonly ConditionView[];
  readonly projector: boolean;
}) {
  if (conditions.length === 0) return null;
  return (
    <section className="part" aria-labelledby="in-words">
      <h2 id="in-words">In words, and the recordings behind</h2>
      <dl className="compare-words">
        {conditions.map((one) => (
          <div key={nameOf(one)}>
            <dt>{nameOf(one)}</dt>
            <dd>
              <p>
                <Sentence>{one.sentence}</Sentence>
              </p>
              {one.remarks.map((remark) => (
                <p key={remark}>
                  <Sentence>{remark}</Sentence>
                </p>
              ))}
              <p className="small quiet compare-runs">
                {one.measured.runs.map(({ path, group, value }, i) => (
                  <span key={path}>
                    {i > 0 && ', '}
                    <Link href={`/recordings/${inAddress(path)}`}>
                      {groupName(group, projector)} {formatSignificant(value, 3)} s
                    </Link>
                  </span>
                ))}
              </p>
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

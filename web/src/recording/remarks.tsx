/** What Emberline has to say, as a list: beside the figure where it has room for a margin, below it else. */
import type { RemarkView } from '../../../src/server/contract/index.ts';
import { Sentence } from '../frame/sentence.tsx';

const weights = { note: '', caution: 'caution: ', repeat: 'repeat: ' } as const;

export function Remarks({
  remarks,
  beside,
}: {
  readonly remarks: readonly RemarkView[];
  /** Whether the figure has them in its own margin: then the list is folded away. */
  readonly beside: boolean;
}) {
  if (remarks.length === 0) return <p className="small quiet">Nothing to remark.</p>;
  const list = (
    <ol className="remarks small">
      {remarks.map((remark, i) => (
        // The same remark can be made of two places.
        // biome-ignore lint/suspicious/noArrayIndexKey: the list is replaced as a whole
        <li key={`${i} ${remark.code}`}>
          {weights[remark.severity] !== '' && <span className="strong">{weights[remark.severity]}</span>}
          <Sentence>{remark.message}</Sentence>{' '}
          <span className="quiet">
            <Sentence>{remark.action}</Sentence>
          </span>
        </li>
      ))}
    </ol>
  );
  if (!beside) return list;
  const count = remarks.length === 1 ? 'the remark' : `the ${remarks.length} remarks`;
  return (
    <details className="small">
      <summary>{count} as a list</summary>
      {list}
    </details>
  );
}

/** What the recording is of, and what came out of it. */
import type { Detail } from '../../../src/server/contract/index.ts';
import { Measured } from '../frame/measured.tsx';
import { halfWidth } from '../frame/numbers.ts';

export function Headline({
  name,
  detail,
  cut,
  before,
  following,
}: {
  readonly name: string;
  readonly detail: Detail;
  /** By whose marks, in words; null where they are as found. */
  readonly cut: string | null;
  /** The time constant by the marks that count, where others are being tried. */
  readonly before: Detail['timeConstant'];
  /** Whether the result is still of the marks before. */
  readonly following: boolean;
}) {
  const { timeConstant, figure } = detail;
  return (
    <header className="recording-head">
      <h1>{name}</h1>
      <p className={following ? 'result result-following' : 'result'} aria-live="polite">
        {timeConstant === null ? (
          <span className="result-number">No time constant</span>
        ) : (
          <>
            <span className="result-name">Time constant</span>{' '}
            <span className="result-number">
              <Measured value={timeConstant.value} uncertainty={halfWidth(timeConstant.interval)} unit="s" />
            </span>
          </>
        )}
        <span className="result-verdict strong">{figure.verdict}</span>
      </p>
      <p className="quiet small">
        {timeConstant !== null && '± is the half-width of the 95 % interval. '}
        {cut !== null && <span className="cut">{cut}. </span>}
        {before !== null && (
          <>
            Before: <Measured value={before.value} uncertainty={halfWidth(before.interval)} unit="s" />.
          </>
        )}
      </p>
    </header>
  );
}

import type { RigStanding } from '../rig/index.ts';
import type { RigChart } from './rig-chart.ts';

/** How the rigs are, in sentences for a document. */
interface RigStateWords {
  /** One sentence: in order or not, by the latest checks. */
  readonly checks: string;
  /** What failed or is too old, a sentence each with its mend. */
  readonly trouble: readonly string[];
  /** What changed over the terms, a sentence each with what to look at. */
  readonly changes: readonly string[];
  /** One sentence: what is followed and steady, and of what too little is known. */
  readonly followed: string;
}

/**
 * The state of the rigs in words.
 *
 * @param standings of every check at a moment
 * @param charts of what is followed over the terms
 */
export function rigStateWords(standings: readonly RigStanding[], charts: readonly RigChart[]): RigStateWords {
  const trouble = standings.filter(({ state }) => state === 'outside' || state === 'stale');
  const good = standings.filter(({ state }) => state === 'in-order').length;
  const missing = standings.filter(({ state }) => state === 'missing').length;
  const changed = charts.filter(({ look }) => look !== null);
  const steady = charts.filter(({ look, limits }) => look === null && limits !== null).length;
  const few = charts.length - changed.length - steady;
  return {
    checks: `Of ${standings.length} checks ${good} ${good === 1 ? 'is' : 'are'} in order, ${trouble.length} failed or ${trouble.length === 1 ? 'is' : 'are'} too old, ${missing} ${missing === 1 ? 'was' : 'were'} never made.`,
    trouble: trouble.map(({ message, mend }) => (mend === null ? message : `${message} ${mend}`)),
    changes: changed.map(({ sentence, look }) => `${sentence} ${look ?? ''}`.trim()),
    followed:
      charts.length === 0
        ? 'Nothing is followed over the terms yet.'
        : `Over the terms ${charts.length} ${charts.length === 1 ? 'series is' : 'series are'} followed: ${changed.length} changed, ${steady} steady, ${few} with too few or equal values to tell.`,
  };
}

import type { Remark, Span } from '../remark/index.ts';
import type { Removed } from './clean.ts';
import type { ProtocolLimits } from './segment-limits.ts';
import { figures } from './segment-words.ts';

/** What is known about the readings in use. */
export interface WindowFacts {
  readonly span: Span;
  /** Readings in the span. */
  readonly readings: number;
  readonly removed: Removed;
  /** s */
  readonly samplePeriod: number;
  /** s */
  readonly timeConstant: number;
  /** Stretches of the cooling without readings; none where left out. */
  readonly gaps?: readonly Span[];
}

/**
 * A part of the informative cooling that is missing: the first three time constants, in which the error fraction
 * falls to a twentieth. Above the first part a gap matters, above the second the course is no longer seen.
 */
const informative = 3;
const gapMatters = 0.1;
const gapHides = 0.5;

/** More than this share of wild readings points to a fault of the chain. */
const suspiciousShare = 0.005;

/** Fewer readings per time constant than this do not show the shape of a decay. */
const fewestReadings = 4;

/** Remarks on the readings in use: `spikes`, `gaps`, `sampling-sparse`. */
export function windowRemarks(facts: WindowFacts, limits: ProtocolLimits): Remark[] {
  return [...spikes(facts), ...missingReadings(facts), ...samplingSparse(facts, limits)];
}

function missingReadings({ gaps = [], span, timeConstant }: WindowFacts): Remark[] {
  const first = gaps[0];
  const last = gaps.at(-1);
  if (first === undefined || last === undefined) return [];
  const until = Math.min(span.to, span.from + informative * timeConstant);
  const within = ({ from, to }: Span) => Math.max(0, Math.min(to, until) - Math.max(from, span.from));
  const share = gaps.reduce((sum, gap) => sum + within(gap), 0) / (until - span.from);
  const missing = gaps.reduce((sum, { from, to }) => sum + to - from, 0);
  const longest = gaps.reduce((a, b) => (b.to - b.from > a.to - a.from ? b : a));
  return [
    {
      code: 'gaps',
      severity: share > gapHides ? 'repeat' : share > gapMatters ? 'caution' : 'note',
      message: `${figures(missing, 2)} s of the cooling have no readings${
        gaps.length > 1 ? `, in ${gaps.length} gaps; the longest is` : ','
      } from ${figures(longest.from, 4)} to ${figures(longest.to, 4)} s (${figures(100 * share, 2)} % of its first ${informative} time constants).`,
      action: 'Check logger and cable; the fit rests on the readings that are there.',
      at: { from: first.from, to: last.to },
    },
  ];
}

function spikes({ removed, readings, span }: WindowFacts): Remark[] {
  if (removed.readings === 0) return [];
  const share = removed.readings / Math.max(1, readings);
  const places = removed.times.slice(0, 3).map((t) => figures(t, 4));
  const one = removed.readings === 1;
  return [
    {
      code: 'spikes',
      severity: share > suspiciousShare ? 'caution' : 'note',
      message: `${removed.readings} of ${readings} readings ${one ? 'stands' : 'stand'} far from ${
        one ? 'its' : 'their'
      } neighbours and ${one ? 'was' : 'were'} left out, ${one ? '' : 'first '}at ${places.join(', ')} s.`,
      action: 'Check contacts and cable routing if it happens in every trial.',
      at: { from: removed.times[0] ?? span.from, to: removed.times.at(-1) ?? span.to },
    },
  ];
}

function samplingSparse({ samplePeriod, timeConstant, span }: WindowFacts, limits: ProtocolLimits): Remark[] {
  const perTimeConstant = timeConstant / samplePeriod;
  if (perTimeConstant >= limits.readingsPerTimeConstant) return [];
  return [
    {
      code: 'sampling-sparse',
      severity: perTimeConstant < fewestReadings ? 'repeat' : 'caution',
      message: `There are ${figures(perTimeConstant, 2)} readings per time constant at ${figures(1 / samplePeriod)} Hz.`,
      action: `Sample at ${figures(100 / timeConstant, 2)} Hz or faster.`,
      at: span,
    },
  ];
}

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
}

/** More than this share of wild readings points to a fault of the chain. */
const suspiciousShare = 0.005;

/** Fewer readings per time constant than this do not show the shape of a decay. */
const fewestReadings = 4;

/** Remarks on the readings in use: `spikes`, `sampling-sparse`. */
export function windowRemarks(facts: WindowFacts, limits: ProtocolLimits): Remark[] {
  return [...spikes(facts), ...samplingSparse(facts, limits)];
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

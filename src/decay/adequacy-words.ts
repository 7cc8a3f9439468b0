import { type RateChange, rateChange } from './adequacy-rate.ts';
import { type Scores, strongest } from './adequacy-score.ts';
import type { Adequacy, AdequacyInput, AdequacyTestName, DepartureKind } from './adequacy-types.ts';
import type { DecayFit } from './fit-types.ts';

type Findings = Omit<Adequacy, 'kind' | 'rateChange' | 'size' | 'sentence'>;
type Description = Pick<Adequacy, 'kind' | 'rateChange' | 'sentence'>;

/** A step of the cooling rate must beat a second exponential by this much in squared score to be named. */
const clearlyBetter = 2;
/** Standard uncertainties above which the fit, carried back, counts as lying above the reading. */
const lateLimit = 2.6;

/** A change of the rate that is smaller than this is not told from other departures by its shape alone. */
const tellingChange = 0.1;

/** What a departure from one exponential looks like, and what the time constant still means. */
export function describeDeparture(
  fit: DecayFit,
  found: Findings,
  scores: Scores | null,
  early: AdequacyInput['early'],
): Description {
  if (found.firstOrder === null) {
    return {
      kind: null,
      rateChange: null,
      sentence:
        'Whether one exponential is enough cannot be told from this recording: the window is too short or the noise too large.',
    };
  }
  if (found.firstOrder) return { kind: null, rateChange: null, sentence: passSentence(found) };
  const large = rateChange(fit, early);
  if (large !== null && Math.abs(large.share) > tellingChange) return changed(large);
  const kind = kindOf(found, scores);
  if (kind === 'jet-changed' && scores !== null) {
    const { share, at } = strongest(scores.change);
    return changed({ share, time: fit.start + at * fit.timeConstant });
  }
  return { kind, rateChange: null, sentence: `${seen(fit, found, scores)} ${meaning[kind]}` };
}

function changed(change: RateChange): Description {
  const direction = change.share > 0 ? 'faster' : 'slower';
  return {
    kind: 'jet-changed',
    rateChange: change,
    sentence: `The cooling became about ${percent(Math.abs(change.share))} ${direction} near ${change.time.toPrecision(3)} s. ${meaning['jet-changed']}`,
  };
}

function passSentence(found: Findings): string {
  const share = found.visibleShare;
  const base = 'One exponential describes the cooling';
  if (share === null) return `${base}.`;
  const of = (name: string, value: number) => (value < 1 ? `a ${name} one of ${percent(value)}` : null);
  const parts = [of('faster', share.fast), of('slower', share.slow)].filter((part) => part !== null);
  return `${base}; of a second exponential, ${parts.join(' or ')} of the excess would have shown.`;
}

function kindOf(found: Findings, scores: Scores | null): DepartureKind {
  const fails = (name: AdequacyTestName) => found.tests.some((test) => test.name === name && test.fails);
  if (fails('back-extrapolation')) {
    return (found.backExtrapolation?.value ?? 0) > 0 ? 'delay-or-inner-conduction' : 'fast-early-component';
  }
  if (scores !== null && (fails('curvature') || fails('second-exponential') || fails('early-against-late'))) {
    const second = strongest(scores.second);
    const change = strongest(scores.change);
    if (change.statistic ** 2 > second.statistic ** 2 + clearlyBetter) return 'jet-changed';
    if (second.ratio > 1) return second.statistic > 0 ? 'slow-second-path' : 'jet-changed';
    if (second.statistic > 0) return 'fast-early-component';
    // A late answer would show at the heat going off: where the fit, carried back, meets the reading, it is none.
    const back = found.backExtrapolation;
    const late = back === null || back.value > lateLimit * back.standardUncertainty;
    return late ? 'delay-or-inner-conduction' : 'jet-changed';
  }
  if (fails('ratio-90-to-50')) {
    return (found.ratio90to50?.value ?? 0) < (found.ratio90to50?.expected ?? 0)
      ? 'delay-or-inner-conduction'
      : 'slow-second-path';
  }
  return 'unclear';
}

function seen(fit: DecayFit, found: Findings, scores: Scores | null): string {
  const back = found.backExtrapolation;
  if (found.tests.some((test) => test.name === 'back-extrapolation' && test.fails) && back !== null) {
    const where = back.value > 0 ? 'above' : 'below';
    const amount = percent(Math.abs(Math.expm1(back.value)));
    const delay = back.value > 0 ? `, a delay of ${(back.value * fit.timeConstant).toPrecision(2)} s` : '';
    return `Carried back to the heat going off, the fit lies ${amount} ${where} the reading${delay}.`;
  }
  if (scores !== null) {
    const second = strongest(scores.second);
    return `The residuals show a second exponential of about ${percent(Math.abs(second.share))} of the excess with ${second.ratio} of the time constant (${Math.abs(second.statistic).toFixed(1)} standard uncertainties).`;
  }
  return 'The course of the cooling departs from one exponential.';
}

const meaning: Record<DepartureKind, string> = {
  'delay-or-inner-conduction':
    'The sensor answers late: heat flows slowly inside the body, or hot air lingered; the time constant is that of the later cooling, and a 36.8 % time counted from the heat going off holds the delay as well.',
  'slow-second-path':
    'Part of the heat leaves by a slower path (stem, wires, or surroundings that are still warm); the time constant is a blend and lies above that of the body.',
  'fast-early-component':
    'The first part falls faster than the rest (a hot junction or wire, or radiation while hot); the time constant is a blend and lies below that of the later cooling.',
  'jet-changed':
    'The cooling rate changed on the way, as when the flow or the place in the jet changes; the time constant is an average over the change.',
  unclear: 'The time constant is that of the exponential that comes closest.',
};

function percent(part: number): string {
  const value = 100 * part;
  return `${value >= 10 ? value.toFixed(0) : value.toPrecision(2)} %`;
}

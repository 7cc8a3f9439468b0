import type { Adequacy } from '../decay/index.ts';
import { gate } from './gate.ts';
import { figures, spokenTime } from './gate-words.ts';
import type { Forecast, Gate, Phase } from './types.ts';

/** What is known of the cooling. Times in s. */
export interface CoolingGateFacts {
  readonly phase: Phase;
  /** Of the latest reading. */
  readonly time: number;
  /** When the clean cooling began; null before. */
  readonly cleanFrom: number | null;
  /** Found so far, or expected; null where neither is known. */
  readonly timeConstant: number | null;
  readonly errorFraction: number | null;
  readonly endFraction: number;
  readonly hasBaseline: boolean;
  readonly forecast: Forecast | null;
  /** Of the latest fit; null without one. */
  readonly adequacy: Adequacy | null;
}

/**
 * A cooling of this many time constants gives tau to three times the uncertainty of a long one where the ambient is
 * free (Cramér-Rao bound of one exponential); it is not asked for where the protocol stops sooner.
 */
const telling = 1.6;
/** Where the fit begins, as an error fraction. */
const fitFrom = 0.9;
/** Ends above these error fractions leave nothing to defend, with and without a baseline. */
const tooSoon = { withBaseline: 0.5, without: 0.2 };
/** A little above the end fraction is still the end. */
const nearEnd = 1.05;
/** A jet that changes tau by more than this part between early and late leaves no one tau (common practice). */
const jetChange = 0.1;
/** Early and late may differ by this part without a word, and must be known to agree within the second. */
const jetTrifle = 0.05;
const jetWeak = 0.25;
/** Noise alone fails a test now and then, but hardly by this factor. */
const clearly = 1.5;

/** Gates on the cooling: `cooling-clean`, `end-reached`, `jet-steady`. */
export function coolingGates(facts: CoolingGateFacts): Gate[] {
  return [cleanLongEnough(facts), endReached(facts), jetSteady(facts)];
}

function hasCooled(phase: Phase): boolean {
  return phase === 'cooling' || phase === 'done';
}

/** Whether the recording ended so soon that the trial is lost. */
function lost({ phase, errorFraction, hasBaseline }: CoolingGateFacts): boolean {
  if (phase !== 'done') return false;
  return !((errorFraction ?? 1) <= (hasBaseline ? tooSoon.withBaseline : tooSoon.without));
}

function cleanLongEnough(facts: CoolingGateFacts): Gate {
  const { phase, time, cleanFrom, timeConstant, endFraction } = facts;
  const wanted = Math.min(telling, Math.log(fitFrom / endFraction));
  const limit = timeConstant === null || !(wanted > 0) ? null : wanted * timeConstant;
  const length = cleanFrom === null ? 0 : Math.max(0, time - cleanFrom);
  const base = { code: 'cooling-clean', source: 'statistics', value: length, limit, unit: 's' } as const;
  const asked = limit === null ? '' : `, of ${spokenTime(limit)} that a time constant wants`;
  if (!hasCooled(phase)) {
    return gate({ ...base, value: null, state: 'open', message: 'The cooling has not begun.' });
  }
  const message = `${spokenTime(length)} of clean cooling are recorded${asked}.`;
  if (limit !== null && length >= limit) return gate({ ...base, state: 'met', message });
  if (phase === 'cooling') {
    return gate({
      ...base,
      state: 'open',
      message,
      mend: 'Keep recording, and leave jet and body as they are.',
    });
  }
  const spoils = lost(facts);
  return gate({
    ...base,
    state: 'missed',
    message,
    mend: spoils ? 'Repeat the trial and keep recording.' : 'Keep recording longer next time.',
    spoils,
  });
}

function endReached(facts: CoolingGateFacts): Gate {
  const { phase, errorFraction, endFraction, forecast } = facts;
  const base = {
    code: 'end-reached',
    source: 'protocol',
    value: errorFraction,
    limit: endFraction,
    unit: '1',
  } as const;
  const asked = figures(endFraction, 2);
  if (!hasCooled(phase) || errorFraction === null) {
    const missing = phase === 'done';
    return gate({
      ...base,
      state: missing ? 'missed' : 'open',
      message: missing
        ? `No cooling down to an error fraction of ${asked} was recorded.`
        : `The cooling shall be recorded down to an error fraction of ${asked}.`,
      mend: missing ? 'Repeat the trial and keep recording through the cooling.' : null,
      spoils: missing,
    });
  }
  const now = figures(Math.max(0, errorFraction), 2);
  if (errorFraction <= endFraction * (phase === 'done' ? nearEnd : 1)) {
    return gate({ ...base, state: 'met', message: `The error fraction is ${now}, of ${asked}.` });
  }
  if (phase === 'cooling') {
    const when = forecast === null ? '' : `; ${asked} is reached in about ${spokenTime(forecast.remaining)}`;
    return gate({
      ...base,
      state: 'open',
      message: `The error fraction is ${now}${when}.`,
      mend: `Keep recording down to ${asked}.`,
    });
  }
  const spoils = lost(facts);
  return gate({
    ...base,
    state: 'missed',
    message: `The recording ends at an error fraction of ${now}, of ${asked}.`,
    mend: spoils ? 'Repeat the trial and keep recording.' : `Keep recording down to ${asked} next time.`,
    spoils,
  });
}

function jetSteady({ adequacy }: CoolingGateFacts): Gate {
  const base = { code: 'jet-steady', source: 'statistics', unit: '1' } as const;
  const untold = { ...base, value: null, limit: null, state: 'open' } as const;
  if (adequacy === null) {
    return gate({ ...untold, message: 'Early and late cooling cannot be compared yet.' });
  }
  const { rateChange, tests, earlyOverLate } = adequacy;
  const clear = tests.some(({ statistic, limit }) => Math.abs(statistic) > clearly * limit);
  if (rateChange !== null && clear && Math.abs(rateChange.share) > jetChange) {
    const share = Math.abs(rateChange.share);
    return gate({
      ...base,
      state: 'missed',
      value: share,
      limit: jetChange,
      message: `The cooling rate ${rateChange.share < 0 ? 'fell' : 'rose'} by ${figures(100 * share, 2)} % at about ${figures(rateChange.time)} s.`,
      mend: 'Repeat the trial with jet and body left as they are.',
      spoils: true,
    });
  }
  const test = tests.find(({ name }) => name === 'early-against-late');
  if (test === undefined || earlyOverLate === null) {
    return gate({ ...untold, message: 'Early and late cooling cannot be compared yet.' });
  }
  const reach = test.limit * earlyOverLate.standardUncertainty;
  const numbers = { ...base, value: Math.abs(earlyOverLate.value - 1), limit: Math.max(reach, jetTrifle) };
  const share = figures(100 * numbers.value, 2);
  const way = earlyOverLate.value > 1 ? 'longer' : 'shorter';
  const message = `The time constant of the first half of the fall is ${share} % ${way} than that of the rest, where ${figures(100 * reach, 2)} % are noise.`;
  if (numbers.value > numbers.limit) {
    return gate({
      ...numbers,
      state: 'missed',
      message,
      mend: 'Look whether jet and body kept their places; a repeat tells an unsteady jet from a body that is not lumped.',
    });
  }
  return gate({ ...numbers, state: reach > jetWeak ? 'open' : 'met', message });
}

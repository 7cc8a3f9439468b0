import { spokenTime } from './gate-words.ts';
import type { BenchAdvice, Forecast, Gate, Phase } from './types.ts';

/** What the advice rests on. */
export interface AdviceFacts {
  readonly phase: Phase;
  /** Whether the file still grows. */
  readonly growing: boolean;
  readonly gates: readonly Gate[];
  readonly temperature: number | null;
  readonly target: number | null;
  readonly forecast: Forecast | null;
  /** See `worthOfGoingOn`; null where it cannot be said. */
  readonly worth: number | null;
  /** Since the heat went off, in time constants; null where neither is known. */
  readonly length: number | null;
}

/** A cooling is recorded no longer than this many time constants, where nothing of it is left. */
const longest = 10;

/** What the people at the bench should do now, in one sentence with its reason. */
export function adviseBench(facts: AdviceFacts): BenchAdvice {
  const { phase, gates } = facts;
  if (phase === 'waiting')
    return { action: 'go-on', message: 'Keep recording: there are too few readings yet.' };
  if (phase === 'heating') return heatingAdvice(facts);
  const spoiled = gates.find(({ state, spoils }) => state === 'missed' && spoils);
  if (spoiled !== undefined) return { action: 'repeat', message: sentence(spoiled) };
  return phase === 'baseline' ? baselineAdvice(gates) : coolingAdvice(facts);
}

function sentence({ message, mend }: Gate): string {
  return mend === null ? message : `${message} ${mend}`;
}

function baselineAdvice(gates: readonly Gate[]): BenchAdvice {
  const waiting = gates.find(
    ({ code, state }) => (code === 'baseline-long' || code === 'baseline-steady') && state !== 'met',
  );
  if (waiting !== undefined) return { action: 'go-on', message: sentence(waiting) };
  return {
    action: 'start',
    message: 'The baseline is long and steady enough: start heating, with the hot air aimed at nobody.',
  };
}

function heatingAdvice({ gates, temperature, target }: AdviceFacts): BenchAdvice {
  const limit = gates.find(
    ({ code, state }) => code === 'limit-kept' && (state === 'close' || state === 'missed'),
  );
  if (limit !== undefined) return { action: 'heat-off', message: sentence(limit) };
  if (target !== null && temperature !== null && temperature >= target) {
    return {
      action: 'heat-off',
      message: 'The target is reached: take the heat away at once, and keep hands off the hot body.',
    };
  }
  const reached = gates.find(({ code }) => code === 'target-reached');
  return { action: 'go-on', message: reached?.message ?? 'The body is being heated.' };
}

/** Of a recording that is over: whether it is what the protocol asks for. */
function whatItCameTo(gates: readonly Gate[]): string {
  const short = gates.find(({ code, state }) => code === 'end-reached' && state === 'missed');
  return short === undefined ? 'The recording is complete.' : sentence(short);
}

function coolingAdvice({ phase, growing, gates, forecast, worth, length }: AdviceFacts): BenchAdvice {
  if (phase === 'cooling') {
    const end = gates.find(({ code }) => code === 'end-reached');
    const remaining = forecast === null ? '' : `, for about ${spokenTime(forecast.remaining)}`;
    const message = end === undefined ? 'Keep recording the cooling.' : end.message;
    return { action: 'go-on', message: `Keep recording${remaining}. ${message}` };
  }
  if (!growing) return { action: 'stop', message: whatItCameTo(gates) };
  if (worth !== null && worth > 1 && length !== null && length < longest) {
    return {
      action: 'go-on',
      message:
        'Enough is recorded, and you may stop; going on improves the time constant more than a repeat in the same time would.',
    };
  }
  return {
    action: 'stop',
    message:
      'You can stop now: the window is complete, and the time improves the time constant more when it is spent on another repeat.',
  };
}

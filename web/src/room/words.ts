/** What the page of a group says, as words. */
import type { MineNow, MineTrial, MineView } from '../../../src/server/contract/index.ts';

export const deeds = {
  start: 'start heating',
  'go-on': 'go on',
  'heat-off': 'heat off',
  stop: 'stop',
  repeat: 'repeat',
} as const satisfies Readonly<Record<MineTrial['advice']['action'], string>>;

export const gateStates = {
  missed: 'missed',
  close: 'soon missed',
  open: 'not yet',
  met: 'met',
} as const satisfies Readonly<Record<MineTrial['gates'][number]['state'], string>>;

/** What a gate is about. */
export const gateNames: Readonly<Record<string, string>> = {
  'baseline-long': 'length of the baseline',
  'baseline-steady': 'steady baseline',
  'target-reached': 'target temperature',
  'limit-kept': 'limit of the body',
  'cooling-clean': 'length of the cooling',
  'end-reached': 'end of the cooling',
  'rate-planned': 'rate of the logger',
  'converter-free': 'range of the logger',
  'readings-whole': 'whole readings',
  'resolution-fine': 'resolution',
  'zero-steady': 'steady zero',
  'ambient-steady': 'ambient as before',
  'jet-steady': 'steady jet',
  'time-constant-plausible': 'how quick the cooling is',
  'body-plausible': 'the body',
};

export function benchWords({ bench, section }: Pick<MineView, 'bench' | 'section'>): string {
  const where = section === null ? '' : `, section ${section}`;
  return bench === null ? `Your bench${where}` : `Bench ${bench.replace(/^bench[-_ ]?/i, '')}${where}`;
}

/** How much of the session is over, as far as is known. */
export function sessionWords({ session }: Pick<MineView, 'session'>, now: MineNow | null): string {
  const { start, length } = session;
  const planned = [
    start === null ? null : `begins at ${start}`,
    length === null ? null : `lasts ${Math.round(length / 60)} min`,
  ].filter((part) => part !== null);
  const remaining = now?.remaining ?? null;
  const elapsed = now?.elapsed ?? null;
  if (remaining !== null && elapsed !== null && elapsed >= 0) {
    if (remaining <= 0) return 'The time of the session is over.';
    return `${Math.ceil(remaining / 60)} min of the session are left.`;
  }
  return planned.length === 0 ? '' : `The session ${planned.join(' and ')}.`;
}

/** Body and flow of a condition, as they are coded in the experiment file. */
export function conditionWords(body: string | null, flow: string | null): string {
  return `${body ?? 'unknown body'} at ${flow ?? 'unknown flow'}`;
}

/** As 47.3 °C. */
export function temperatureWords(temperature: number | null): string {
  return temperature === null ? '' : `${temperature.toFixed(1).replace('-', '−')} °C`;
}

/** As 90 s or 2 min 10 s. */
export function secondsWords(time: number): string {
  const whole = Math.max(0, Math.round(time));
  if (whole < 120) return `${whole} s`;
  return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`;
}

/** Time to the end fraction; null where nothing is waited for, or the trial is lost. */
export function remainingWords({ phase, forecast, advice }: MineTrial): string | null {
  if (forecast === null || phase === 'done' || advice.action === 'repeat') return null;
  const { remaining, interval } = forecast;
  if (remaining === null) return null;
  const [least, most] = interval.map((end) => (end === null ? 'not known' : secondsWords(end)));
  return least === most ? secondsWords(remaining) : `${secondsWords(remaining)} (${least} to ${most})`;
}

/** As 0.31; null where it means nothing. */
export function fractionWords({ phase, errorFraction }: MineTrial): string | null {
  if (errorFraction === null || (phase !== 'cooling' && phase !== 'done')) return null;
  return errorFraction < 0.005 ? 'less than 0.01' : errorFraction.toFixed(2);
}

/** A moment, in the words of this device. */
export function whenWords(at: string): string {
  const date = new Date(at);
  return Number.isNaN(date.getTime())
    ? at
    : date.toLocaleString('en-GB', { day: 'numeric', month: 'long', hour: '2-digit', minute: '2-digit' });
}

/** The first repeat that no recording of the condition has, from 1. */
export function nextRepeat(recordings: MineView['recordings'], body: string, flow: string): number {
  const taken = new Set(
    recordings.filter((one) => one.body === body && one.flow === flow).map(({ repeat }) => repeat),
  );
  let next = 1;
  while (taken.has(next)) next += 1;
  return next;
}

/** What a value is called in a form. */
export function quantityLabel(name: string, unit: string): string {
  const called = name.charAt(0).toUpperCase() + name.slice(1);
  return unit === '' ? called : `${called} / ${unit === 'W/(m2 K)' ? 'W/(m² K)' : unit}`;
}

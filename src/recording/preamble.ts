import { findDateOrder, isoMoment, parseClock } from './clock.ts';
import { commentText } from './split.ts';
import { type UnitMeaning, unitMeaning } from './units.ts';

/** What the lines before the numbers tell. */
export interface PreambleFacts {
  /** Sampling rate, Hz, and the line that states it, counted from 1; null where none does. */
  readonly rate: { readonly hertz: number; readonly line: number } | null;
  /** Start in ISO 8601, or null. */
  readonly startedAt: string | null;
  /** Unit of the readings where a line states one for all. */
  readonly unit: UnitMeaning | null;
  /** Names of channels by their number in the file. */
  readonly names: ReadonlyMap<number, string>;
}

const number = String.raw`([+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?)`;
const perSecond = new RegExp(
  `${number}\\s*(k|M)?\\s*(?:Hz\\b|S\\/s\\b|sps\\b|samples?\\s*(?:\\/|per)\\s*s(?:ec(?:ond)?)?\\b|scans?\\s*(?:\\/|per)\\s*s|1\\/s\\b|readings?\\s*(?:\\/|per)\\s*s|Werte\\s*\\/\\s*s|messungen\\s*\\/\\s*s)`,
  'i',
);
const perMinute = new RegExp(`${number}\\s*(?:samples?|readings?|scans?)\\s*(?:\\/|per)\\s*min`, 'i');
const rateWords =
  /sampl\w*[ _-]?(?:rate|freq)|\bscan[ _-]?(?:rate|freq)|\b(?:data|acq\w*|log\w*|update|record\w*)[ _-]?rate|\bf_?s\b|^\s*rate\b|abtast(?:rate|frequenz)|messrate|fr[ée]quence d.[ée]chantillonnage|frecuencia de muestreo|frequenza di campionamento|bemonsteringsfrequentie|^\s*freq\w*\b/i;
const intervalWords =
  /\binterval\w*|intervall\w*|\bperiod\w*|\bdt\b|\bdelta[ _]?[tx]\b|Δt|time[ _]?step|sample[ _]?time|\bincrement\b|schrittweite|abtastzeit|zeitschritt|pas de temps|intervalo|intervallo/i;
const otherRates = /filter|mains|line freq|cut|bandw|netz|notch|baud|tau|integration|heat|flow/i;
const valueWithUnit = new RegExp(
  `${number}\\s*(s|sec|secs|seconds?|sek\\w*|ms|msec|milliseconds?|us|µs|μs|usec|min|minutes?|h)?(?:\\b|$)`,
  'i',
);

/**
 * Looks for the sampling rate, the start, the unit and channel names in the lines before the numbers.
 *
 * @param lines those lines, the first line of the file first
 */
export function minePreamble(lines: readonly string[]): PreambleFacts {
  let rate: PreambleFacts['rate'] = null;
  let unit: UnitMeaning | null = null;
  const names = new Map<number, string>();
  lines.forEach((raw, i) => {
    const line = (commentText(raw) ?? raw).replaceAll('"', '').slice(0, 400);
    const hertz = rateIn(line);
    if (rate === null && hertz !== null) rate = { hertz, line: i + 1 };
    const said =
      /^\s*(?:units?|einheit(?:en)?|unit[ée]s?|unidad(?:es)?|y[ _]?units?)\s*[:=;,\t]\s*(\S.*?)\s*[,;]*$/i.exec(
        line,
      );
    if (said !== null) unit ??= unitMeaning(said[1] ?? '');
    const named =
      /^\s*(?:channel|ch|kanal|canal|column|col|spalte)[ ._#-]*(\d{1,3})(?:\s*name)?\s*[:=]\s*(\S.{0,80}?)\s*[,;]*$/i.exec(
        line,
      );
    if (named !== null) names.set(Number(named[1]), named[2] ?? '');
  });
  return { rate, startedAt: startIn(lines), unit, names };
}

function rateIn(line: string): number | null {
  if (otherRates.test(line)) return null;
  const stated = perSecond.exec(line);
  if (stated !== null) {
    const factor = stated[2] === undefined ? 1 : /k/i.test(stated[2]) ? 1e3 : 1e6;
    return positive(plainNumber(stated[1]) * factor);
  }
  const slow = perMinute.exec(line);
  if (slow !== null) return positive(plainNumber(slow[1]) / 60);
  const isRate = rateWords.exec(line);
  const isInterval = intervalWords.exec(line);
  const word = isRate ?? isInterval;
  if (word === null) return null;
  // Only what stands behind the word, so that a date in front of it is not taken for the number.
  const rest = line.slice(word.index + word[0].length).replace(/^[^:=\d]{0,24}[:=]?\s*/, '');
  const inBrackets = /[[(]\s*(ms|us|µs|s|min|Hz|kHz)\s*[\])]/i.exec(line)?.[1];
  if (isRate !== null) {
    const value = new RegExp(`^${number}\\s*$`).exec(rest.replace(/[,;\t ]+$/, ''));
    return value === null ? null : positive(plainNumber(value[1]) * (inBrackets === 'kHz' ? 1e3 : 1));
  }
  const clock = parseClock(/^[\d:.]+/.exec(rest)?.[0] ?? '', 'ymd');
  if (clock !== null && clock.day === null) return positive(1 / (clock.seconds ?? 0));
  const value = new RegExp(`^${valueWithUnit.source}`, 'i').exec(rest);
  if (value === null) return null;
  const meaning = unitMeaning((value[2] ?? inBrackets ?? 's').toLowerCase());
  const unit = meaning?.kind === 'time' ? meaning.unit : 's';
  return positive(1 / (plainNumber(value[1]) * secondsPer[unit]));
}

const secondsPer = { s: 1, ms: 1e-3, us: 1e-6, min: 60, h: 3600 } as const;

function plainNumber(text = ''): number {
  return Number(text.replace(',', '.'));
}

function positive(x: number): number | null {
  // Reciprocals of decimal intervals are tidied: 1 / 0.001 s is 1000 Hz.
  return Number.isFinite(x) && x > 0 ? Number(x.toPrecision(12)) : null;
}

const startWords =
  /start|begin|begonnen|d[ée]but|inicio|inizio|date|datum|fecha|data\b|time|zeit|hora|heure|trigger|created|record|log/i;
const momentIn =
  /\d{1,4}[-./](?:\d{1,2}|[A-Za-z]{3,9})[-./]\d{1,4}(?:[T_ ,;\t]+\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?:\s*[AaPp]\.?[Mm]\b)?(?:\s*(?:Z\b|[+-]\d{2}:?\d{2}))?)?/;
const clockIn = /\b\d{1,2}:\d{2}:\d{2}(?:[.,]\d+)?(?:\s*[AaPp]\.?[Mm]\b)?/;

function startIn(lines: readonly string[]): string | null {
  let day: string | null = null;
  let clock: string | null = null;
  for (const raw of lines) {
    const line = raw.replaceAll('"', '').slice(0, 400);
    if (!startWords.test(line) || intervalWords.test(line)) continue;
    const moment = momentIn.exec(line)?.[0].replace(/[,;\t]+/, ' ') ?? null;
    if (moment?.includes(':')) {
      const stated = asIso(moment);
      if (stated !== null) return stated;
    }
    day ??= moment;
    if (moment === null) clock ??= clockIn.exec(line)?.[0] ?? null;
  }
  return day === null ? null : asIso(clock === null ? day : `${day} ${clock}`);
}

function asIso(text: string): string | null {
  const reading = parseClock(text, findDateOrder([text]).order);
  if (reading === null || reading.day === null) return null;
  if (reading.seconds === null) return isoMoment(reading.day, 0, null)?.slice(0, 10) ?? null;
  return isoMoment(reading.day, reading.seconds, reading.zone);
}

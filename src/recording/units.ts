import type { TimeUnit } from './options.ts';
import type { ChannelUnit } from './types.ts';

/** What a unit in a header says: a channel's unit, a time unit, or something that is neither. */
export type UnitMeaning =
  | { readonly kind: 'channel'; readonly unit: ChannelUnit }
  | { readonly kind: 'time'; readonly unit: Exclude<TimeUnit, 'index'> }
  | { readonly kind: 'other' };

const channelUnits: Readonly<Record<string, ChannelUnit>> = {
  '°c': 'degC',
  ºc: 'degC',
  '˚c': 'degC',
  'â°c': 'degC',
  '\ufffdc': 'degC',
  degc: 'degC',
  'deg.c': 'degC',
  deg_c: 'degC',
  gradc: 'degC',
  oc: 'degC',
  celsius: 'degC',
  degcelsius: 'degC',
  degreec: 'degC',
  degreesc: 'degC',
  degreecelsius: 'degC',
  degreescelsius: 'degC',
  gradcelsius: 'degC',
  '℃': 'degC',
  '°f': 'degF',
  ºf: 'degF',
  '˚f': 'degF',
  'â°f': 'degF',
  '\ufffdf': 'degF',
  degf: 'degF',
  'deg.f': 'degF',
  deg_f: 'degF',
  fahrenheit: 'degF',
  degreesf: 'degF',
  degfahrenheit: 'degF',
  degreesfahrenheit: 'degF',
  '℉': 'degF',
  kelvin: 'K',
  degk: 'K',
  volt: 'V',
  volts: 'V',
  vdc: 'V',
  millivolt: 'mV',
  millivolts: 'mV',
  mvdc: 'mV',
  µv: 'uV',
  μv: 'uV',
  uv: 'uV',
  microvolt: 'uV',
  microvolts: 'uV',
  ω: 'ohm',
  ohm: 'ohm',
  ohms: 'ohm',
};

/** Symbols whose case carries meaning. */
const exactUnits: Readonly<Record<string, ChannelUnit>> = {
  C: 'degC',
  F: 'degF',
  K: 'K',
  V: 'V',
  mV: 'mV',
  MV: 'mV',
};

const timeUnits: Readonly<Record<string, Exclude<TimeUnit, 'index'>>> = {
  s: 's',
  sec: 's',
  secs: 's',
  second: 's',
  seconds: 's',
  sek: 's',
  sekunde: 's',
  sekunden: 's',
  seconde: 's',
  secondes: 's',
  seg: 's',
  segundos: 's',
  ms: 'ms',
  msec: 'ms',
  msecs: 'ms',
  millis: 'ms',
  millisecond: 'ms',
  milliseconds: 'ms',
  millisekunden: 'ms',
  µs: 'us',
  μs: 'us',
  us: 'us',
  usec: 'us',
  microsecond: 'us',
  microseconds: 'us',
  micros: 'us',
  mikrosekunden: 'us',
  min: 'min',
  mins: 'min',
  minute: 'min',
  minutes: 'min',
  minuten: 'min',
  h: 'h',
  hr: 'h',
  hrs: 'h',
  hour: 'h',
  hours: 'h',
  std: 'h',
  stunden: 'h',
};

const others =
  /^(?:%|%rh|rh|bar|mbar|pa|hpa|kpa|mpa|psi|psig|psia|atm|a|ma|µa|μa|ua|w|kw|hz|khz|rpm|m|mm|cm|m\/s|km\/h|l\/min|l\/h|lpm|slpm|scfh|scfm|cfm|cfh|ft3\/h|m3\/h|m³\/h|kg|g|n|nm|db|count|counts|digit|digits|lx|ppm|none|-|1)$/;

/** No unit is longer; the search in longer texts would take the square of their length. */
const longestUnit = 60;

/** Meaning of a unit's text, brackets around it allowed; null where it is no unit. */
export function unitMeaning(text: string): UnitMeaning | null {
  const trimmed = text.trim();
  if (trimmed.length > longestUnit) return null;
  const bare = trimmed.replace(/^[[({<]\s*|\s*[\])}>]$/g, '').replace(/\s+/g, '');
  const exact = own(exactUnits, bare);
  if (exact !== undefined) return { kind: 'channel', unit: exact };
  const lower = bare.toLowerCase();
  const time = own(timeUnits, lower);
  if (time !== undefined) return { kind: 'time', unit: time };
  const channel = own(channelUnits, lower);
  if (channel !== undefined) return { kind: 'channel', unit: channel };
  return others.test(lower) ? { kind: 'other' } : null;
}

function own<T>(table: Readonly<Record<string, T>>, key: string): T | undefined {
  return Object.hasOwn(table, key) ? table[key] : undefined;
}

/**
 * Time unit of a column whose name is the unit: `millis`, `ms`, `elapsedMillis`, `micros()`. Null for other
 * names, and for those that mean something else as often: `S`, `min`, `h`, `std`.
 */
export function timeUnitOfName(name: string): UnitMeaning | null {
  const bare = name
    .slice(0, longestName)
    .replace(/\s*\(\)$/, '')
    .trim();
  const counter = /(?:^|[a-z_ ])(millis|Millis|micros|Micros|Ms|Us)$/.exec(bare)?.[1];
  const unit =
    /^(?:S|min|mins|h|hr|hrs|std|seg)$/i.test(bare) && bare !== 's' ? null : unitMeaning(counter ?? bare);
  return unit?.kind === 'time' ? unit : null;
}

/** Names are shown to people; nobody reads more of one. */
const longestName = 120;

/** `type K`, `TC S`, `CH F`: a letter that tells sensors or inputs apart, not a unit. */
const lettersOfTypes = /(?:type|typ|tc|thermocouple|thermoelement|ch|channel|kanal|sensor)[\s_]*[a-z]$/i;

/** A name from a header, and the unit that was written with it. */
export interface NameWithUnit {
  readonly name: string;
  readonly unit: UnitMeaning | null;
}

/** Takes a header's cell apart: `Temp (°C)`, `CH1 [mV]`, `T/°C`, `U in V`, `Temp_degC`, `time, s`. */
export function nameAndUnit(cell: string): NameWithUnit {
  const text = cell.trim().slice(0, longestName);
  const bracketed = /^(.*?)\s*[[({<]\s*([^[\](){}<>]+?)\s*[\])}>]\s*(.*)$/.exec(text);
  if (bracketed !== null) {
    const unit = unitMeaning(bracketed[2] ?? '');
    if (unit !== null) return { name: `${bracketed[1] ?? ''} ${bracketed[3] ?? ''}`.trim(), unit };
  }
  const worded = /^(.+?)(?:\s*\/\s*|\s+in\s+|\s*,\s*|_|\s+)(\S+(?:\s[CFK])?)$/i.exec(text);
  if (worded !== null) {
    const unit = lettersOfTypes.test(text) ? null : unitMeaning(worded[2] ?? '');
    if (unit !== null && unit.kind !== 'other') return { name: (worded[1] ?? '').trim(), unit };
  }
  return { name: text, unit: null };
}

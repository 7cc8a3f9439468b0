import { type Dimension, toSI, type Unit, unitsOf } from './units.ts';

/** What a pressure is counted from: the atmosphere, vacuum, or the text does not say. */
export type PressureReference = 'gauge' | 'absolute' | 'unstated';

/** A quantity that was understood. */
export interface ParsedQuantity {
  readonly ok: true;
  /** In SI; a temperature in °C; a gauge pressure as gauge pressure. */
  readonly value: number;
  /** The number as it was written. */
  readonly number: number;
  readonly unit: Unit;
  /** Null for everything that is not a pressure. */
  readonly reference: PressureReference | null;
}

/** A text that is not the quantity asked for. */
export interface QuantityProblem {
  readonly ok: false;
  /** One sentence: what is wrong. */
  readonly problem: string;
  /** One sentence: what to write. */
  readonly mend: string;
  /** The units that would be understood, as they are typed. */
  readonly allowed: readonly string[];
}

/** Longest text that is looked at: no quantity needs more. */
const longest = 80;
const absoluteZero = -273.15;

/** Units for the examples in messages, where the first of a dimension is not what a bench has. */
const exampleUnits: Partial<Record<Dimension, string>> = {
  length: 'mm',
  mass: 'g',
  flow: 'L/min',
  pressure: 'kPa',
};

/**
 * Reads a quantity as people write it: `12 mm`, `0.5 in`, `120 L/min`, `2.5 bar(g)`, `65 °F`.
 *
 * A unit is required, except for a plain ratio: a bare number is refused, for it would have to be guessed.
 * The decimal mark is the point. A comma is always refused, even where it could only be a decimal comma, since
 * the same pen writes 1,200 for twelve hundred; so are thousands marks of any kind. Letters are not folded
 * (mV is not MV); near misses are named in the mend. Signs for micro, degree and ohm, superscripts and
 * `^` are understood in all their forms.
 *
 * @param text what was written
 * @param dimension what is asked for
 */
export function parseQuantity(text: string, dimension: Dimension): ParsedQuantity | QuantityProblem {
  const shown = text.length > longest ? `${text.slice(0, longest)}…` : text;
  const fail = (problem: string, mend: string): QuantityProblem => ({
    ok: false,
    problem,
    mend,
    allowed: unitsOf(dimension).map((unit) => unit.spellings[0] ?? unit.symbol),
  });
  const example = exampleUnits[dimension] ?? unitsOf(dimension)[0]?.spellings[0] ?? '';
  if (text.length > longest) {
    return fail(
      `"${shown}" is too long for a quantity.`,
      `Write a number and a unit, such as 12.5 ${example}.`,
    );
  }
  const tidy = tidied(text);
  const match = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)(.*)$/.exec(tidy);
  if (match === null) {
    return fail(
      `"${shown}" does not start with a number.`,
      `Write a number and a unit, such as 12.5 ${example}.`,
    );
  }
  const [, digits = '', behind = ''] = match;
  const number = Number(digits);
  const spelling = behind.trim();
  const marks = numberMarks(digits, behind, shown);
  if (marks !== null) return fail(marks.problem, marks.mend);
  if (!Number.isFinite(number)) {
    return fail(`"${shown}" is too large a number.`, 'Write a smaller number or a larger unit.');
  }
  if (spelling === '' && dimension !== 'ratio') {
    return fail(`"${shown}" has no unit.`, `Write the unit behind the number, such as ${digits} ${example}.`);
  }
  const found = findUnit(spelling === '' ? '1' : spelling, dimension);
  if (found === null) {
    const hint = mendFor(spelling, dimension);
    return fail(`"${spelling}" in "${shown}" is not a unit of ${dimensionName(dimension)} here.`, hint);
  }
  const value = toSI(number, found.unit);
  if (dimension === 'temperature' && value < absoluteZero) {
    return fail(`"${shown}" lies below absolute zero.`, 'Check the number, its sign and its unit.');
  }
  if (found.reference === 'absolute' && value < 0) {
    return fail(
      `"${shown}" is an absolute pressure below zero.`,
      'Check the sign, or write it as gauge pressure.',
    );
  }
  return { ok: true, value, number, unit: found.unit, reference: found.reference };
}

/** One spelling for signs that look alike: minus, micro, degree, ohm, superscripts, dots, blanks. */
function tidied(text: string): string {
  return text
    .replace(/[°˚º]\s*/g, 'deg')
    .replace(/[″”“]/g, '"')
    .normalize('NFKC')
    .replace(/°/g, 'deg')
    .replace(/[−–‐‑]/g, '-')
    .replace(/⁄/g, '/')
    .replace(/μ/g, 'u')
    .replace(/Ω/g, 'ohm')
    .replace(/[·⋅×*]/g, '.')
    .replace(/\^/g, '')
    .replace(/\s+/g, ' ')
    .replace(/ ?\/ ?/g, '/')
    .replace(/ per /g, '/')
    .trim();
}

/** What is wrong with the way the number is written, if its end was not the end of the number. */
function numberMarks(
  digits: string,
  behind: string,
  shown: string,
): { problem: string; mend: string } | null {
  const comma = /^,(\d+)/.exec(behind);
  if (comma !== null) {
    const decimal = `${digits}.${comma[1] ?? ''}`;
    return /^\d{3}$/.test(comma[1] ?? '')
      ? {
          problem: `The comma in "${shown}" can be a decimal comma or a thousands mark.`,
          mend: `Write ${decimal} or ${digits}${comma[1] ?? ''}, without a comma.`,
        }
      : { problem: `"${shown}" has a comma in its number.`, mend: `Write a decimal point: ${decimal}.` };
  }
  const group = /^[ '’_](\d{3})(?!\d)/.exec(behind);
  if (group !== null) {
    return {
      problem: `"${shown}" has a thousands mark in its number.`,
      mend: `Write the digits together: ${digits}${group[1] ?? ''}.`,
    };
  }
  if (/^\.\d/.test(behind)) {
    return {
      problem: `"${shown}" has two decimal points.`,
      mend: 'Write one decimal point and no thousands mark.',
    };
  }
  const fraction = /^\/(\d+(?:\.\d+)?)/.exec(behind);
  if (fraction !== null && Number(fraction[1]) > 0 && !/^\/\d+\/?(s|min)\b/.test(behind)) {
    const quotient = Number((Number(digits) / Number(fraction[1])).toPrecision(12));
    return { problem: `"${shown}" is written as a fraction.`, mend: `Write it as a decimal: ${quotient}.` };
  }
  return null;
}

interface Found {
  readonly unit: Unit;
  readonly reference: PressureReference | null;
}

function findUnit(spelling: string, dimension: Dimension): Found | null {
  const plain = exactUnit(spelling, dimension);
  if (plain !== null) return { unit: plain, reference: dimension === 'pressure' ? 'unstated' : null };
  if (dimension !== 'pressure') return null;
  const marked =
    /^(.+?)[ -]?(?:\((g|gauge|gage|a|abs|absolute)[.]?\)|(g|gauge|gage|a|abs|absolute)[.]?)$/i.exec(spelling);
  const unit = marked === null ? null : exactUnit(marked[1] ?? '', dimension);
  if (marked === null || unit === null) return null;
  const mark = (marked[2] ?? marked[3] ?? '').toLowerCase();
  return { unit, reference: mark.startsWith('g') ? 'gauge' : 'absolute' };
}

function exactUnit(spelling: string, dimension: Dimension): Unit | null {
  return unitsOf(dimension).find((unit) => unit.spellings.includes(spelling)) ?? null;
}

/** Flows counted at reference conditions that the text does not name. */
const standardFlow = /^(s(cfh|cfm|lpm|ccm|l\/min)|n(l|m3)\/(min|h)|nlpm|sl\/min)$/i;

function mendFor(spelling: string, dimension: Dimension): string {
  const units = unitsOf(dimension);
  const folded = units
    .flatMap((unit) => unit.spellings)
    .find((known) => known.toLowerCase() === spelling.toLowerCase());
  if (folded !== undefined) return `Write ${folded}; capitals and small letters count in units.`;
  if (dimension === 'flow' && standardFlow.test(spelling)) {
    return 'Write the reading in its plain unit (ft3/h, L/min) and give the reference pressure and temperature apart.';
  }
  return `Write one of: ${units.map((unit) => unit.spellings[0] ?? unit.symbol).join(', ')}.`;
}

function dimensionName(dimension: Dimension): string {
  return dimension.replaceAll('-', ' ');
}

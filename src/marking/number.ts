/** Which mark stands for the decimals, as far as the other numbers of a file tell. */
export type DecimalMark = '.' | ',' | 'unknown';

/** A number that was read as it was written. */
export interface WrittenNumber {
  readonly value: number;
  /** Half of the last digit, in the same unit. */
  readonly rounding: number;
}

/** Why a text is no number, in a word. */
export type NumberTrouble = 'no-number' | 'two-ways';

const blanks = /[\u00A0\u2007\u2008\u2009\u202F ]/g;
const minus = /[\u2212\u2012\u2013\uFE63\uFF0D]/g;
/** Digits with marks between them, and a power of ten: `1.2e4`, `1,2E+4`, `1.41·10^4`. */
const parts = /^([+-]?)([\d.,'’]*\d[.,]?)(?:[eE]([+-]?\d{1,3})|[·×x*]10\^?\(?([+-]?\d{1,3})\)?)?$/;

/**
 * Reads a number in any of the ways in which people write it, wholly or not at all.
 *
 * @param text without its unit
 * @param mark decimal mark of the file
 */
export function readWrittenNumber(text: string, mark: DecimalMark): WrittenNumber | NumberTrouble {
  const tidy = text.trim().replace(minus, '-').replace(blanks, '');
  const found = parts.exec(tidy);
  if (found === null || tidy.length > 40) return 'no-number';
  const [, sign = '', digits = '', e, ten] = found;
  const plain = withPoint(digits, mark);
  if (plain === 'no-number' || plain === 'two-ways') return plain;
  const power = Number(e ?? ten ?? 0);
  const value = Number(`${sign}${plain}e${power}`);
  if (!Number.isFinite(value) || Math.abs(value) > largest) return 'no-number';
  return { value, rounding: 0.5 * 10 ** (lastPlace(plain) + power) };
}

/** Nothing that is handed in comes near. */
const largest = 1e15;

/** The digits with a point for the decimal mark and no thousands marks. */
function withPoint(digits: string, mark: DecimalMark): string | NumberTrouble {
  const plain = digits.replace(/['’]/g, '');
  const points = plain.split('.').length - 1;
  const commas = plain.split(',').length - 1;
  if (points === 0 && commas === 0) return plain;
  if (points > 0 && commas > 0) {
    const decimal = plain.lastIndexOf('.') > plain.lastIndexOf(',') ? '.' : ',';
    return grouped(plain, decimal);
  }
  const own = points > 0 ? '.' : ',';
  if (points + commas > 1) return grouped(plain, own === '.' ? ',' : '.');
  const groupLike = /^[1-9]\d{0,2}[.,]\d{3}$/.test(plain);
  // A point is the decimal mark unless the file writes commas; a comma before three digits may be either.
  if (groupLike && own === ',') {
    if (mark === 'unknown') return 'two-ways';
    return mark === ',' ? plain.replace(',', '.') : plain.replace(',', '');
  }
  if (groupLike && mark === ',') return plain.replace('.', '');
  return plain.replace(',', '.');
}

/** Takes thousands marks out where they stand before groups of three digits. */
function grouped(digits: string, decimal: '.' | ','): string | NumberTrouble {
  const [whole = '', rest, ...more] = digits.split(decimal);
  const form = decimal === '.' ? /^[1-9]\d{0,2}(?:,\d{3})*$/ : /^[1-9]\d{0,2}(?:\.\d{3})*$/;
  if (more.length > 0 || !form.test(whole) || /[.,]/.test(rest ?? '')) return 'no-number';
  return `${whole.replace(/[.,]/g, '')}${rest === undefined ? '' : `.${rest}`}`;
}

/** Figures to which a whole number that ends in zeros is trusted at least. */
const trustedFigures = 3;

/** Power of ten of the last digit that says something. */
function lastPlace(plain: string): number {
  const point = plain.indexOf('.');
  if (point >= 0) return -(plain.length - point - 1);
  const digits = plain.replace(/^0+/, '');
  const zeros = /0*$/.exec(digits)?.[0].length ?? 0;
  return Math.max(0, Math.min(zeros, digits.length - trustedFigures));
}

/**
 * The decimal mark of a file, from all its cells: a mark before anything but three digits, or the last of two
 * different ones.
 */
export function decimalMarkOf(cells: Iterable<string>): DecimalMark {
  let points = 0;
  let commas = 0;
  for (const cell of cells) {
    const digits = /^[+\-\u2212]?(\d[\d.,'’]*)\s*\S*$/.exec(cell.trim())?.[1] ?? '';
    const last = Math.max(digits.lastIndexOf('.'), digits.lastIndexOf(','));
    if (last < 0) continue;
    const behind = digits.length - last - 1;
    const both = digits.includes('.') && digits.includes(',');
    const zeroFirst = /^0[.,]/.test(digits);
    if (behind === 3 && !both && !zeroFirst && last <= 3) continue;
    if (digits[last] === '.') points += 1;
    else commas += 1;
  }
  if (points > 0 && commas > 0) return points >= commas ? '.' : ',';
  if (points > 0) return '.';
  return commas > 0 ? ',' : 'unknown';
}

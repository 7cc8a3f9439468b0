import type { Dialect } from './types.ts';

/** Why a cell is no reading. */
export type Mark = 'blank' | 'not-a-number' | 'overload' | 'text';

/** Decimal and thousands marks of a file. */
export type NumberStyle = Pick<Dialect, 'decimal' | 'thousands'>;

const plain = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eEdD][+-]?\d+)?$/;
const overload =
  /^[+-]?(?:o\.?l\.?|ovl|ovld|ovrld|ovf|over(?:load|flow|range|[ -]range)?|under(?:flow|range|[ -]range)?|[+-]?1[.,]#inf\w*|inf|infinity|∞|open|sat|saturated)$/i;
const notANumber =
  /^[+-]?(?:nan|1[.,]#(?:qnan|snan|ind|nan)\w*|nan\(.*\)|#?n\/?a|#?null!?|none|nil|#num!|#value!|#div\/0!|#ref!|inval(?:id)?|bad|err(?:or)?|-{1,8}|\*{1,16}|\?{1,8}|\.{2,8})$/i;
const suffixed =
  /^([+-]?[\d.,' ]*\d[.,]?(?:[eE][+-]?\d+)?)\s*(°\s?[CF]|º\s?[CF]|[a-zA-ZµμΩ%][a-zA-Z/%²³]{0,7})$/;

/**
 * Magnitude from which a number stands for no reading: instruments send 9.9E37 for infinity and 9.91E37 for
 * not-a-number (SCPI-1999, volume 1, 7.2.1.4 and 7.2.1.5; from memory).
 */
export const overloadFrom = 9.8e37;

/** What a number of that magnitude stands for. */
export function overloadMark(value: number): Mark {
  return Math.abs(value) === 9.91e37 ? 'not-a-number' : 'overload';
}

/** Puts the signs and spaces of typography into the ones of a keyboard. */
export function keyboardText(text: string): string {
  if (isAscii(text)) return text.trim();
  return text
    .replace(/[\u2212\u2012\u2013\uFE63\uFF0D]/g, '-')
    .replace(/[\u00A0\u2007\u2008\u2009\u202F]/g, ' ')
    .replace(/\u2019/g, "'")
    .replace(/[\uFEFF\u200B]/g, '')
    .trim();
}

function isAscii(text: string): boolean {
  for (let i = 0; i < text.length; i++) if (text.charCodeAt(i) > 127) return false;
  return true;
}

/**
 * Reads one cell as a number, wholly or not at all.
 *
 * @param cell text without quotes and without spaces around it
 * @returns the nearest double, or the mark that says why there is none
 */
export function parseNumber(cell: string, style: NumberStyle): number | Mark {
  if (cell === '') return 'blank';
  const ungrouped = style.thousands === null ? cell : withoutGroups(cell, style);
  const text = style.decimal === ',' ? commaToPoint(ungrouped) : ungrouped;
  if (plain.test(text)) {
    // A minus zero is a zero: not every file of tables keeps its sign.
    const value = Number(text.replace(/[dD]/, 'e')) + 0;
    return Math.abs(value) >= overloadFrom ? overloadMark(value) : value;
  }
  const bare = cell.replace(/\s+/g, ' ');
  if (overload.test(bare)) return 'overload';
  if (notANumber.test(bare)) return 'not-a-number';
  return 'text';
}

/** Swaps the one decimal comma for a point; a text that has a point already is no number in this style. */
function commaToPoint(text: string): string {
  return text.includes('.') ? '' : text.replace(',', '.');
}

/** Takes thousands marks out, if each of them has three digits behind it and the first group is right. */
function withoutGroups(cell: string, { decimal, thousands }: NumberStyle): string {
  if (thousands === null || !cell.includes(thousands)) return cell;
  const at = cell.indexOf(decimal);
  const whole = at < 0 ? cell : cell.slice(0, at);
  const groups = whole.split(thousands);
  const [first = '', ...rest] = groups;
  const grouped = /^[+-]?[1-9]\d{0,2}$/.test(first) && rest.every((group) => /^\d{3}$/.test(group));
  return grouped ? groups.join('') + (at < 0 ? '' : cell.slice(at)) : cell;
}

/** No number with its unit is longer; the search in longer texts would take the square of their length. */
const longestSuffixed = 60;

/** Splits `21.3 °C` into its number and its unit; null where the cell does not end in a unit. */
export function splitSuffix(cell: string): { number: string; suffix: string } | null {
  const match = cell.length > longestSuffixed ? null : suffixed.exec(cell);
  if (match === null) return null;
  return { number: (match[1] ?? '').trim(), suffix: (match[2] ?? '').replace(/\s/g, '') };
}

/**
 * Reads one cell of a column that may write a unit behind every number.
 *
 * @param suffix that unit, or null; a cell with another unit is `text`
 */
export function parseCell(cell: string, style: NumberStyle, suffix: string | null): number | Mark {
  const value = parseNumber(cell, style);
  if (suffix === null || value !== 'text') return value;
  const parts = splitSuffix(cell);
  return parts?.suffix === suffix ? parseNumber(parts.number, style) : 'text';
}

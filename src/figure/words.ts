/** Text as it may appear in a figure: made plain, measured, wrapped; and numbers as they are printed. */

/** Advance widths in thousandths of the size, U+0020 to U+007E, of the text family's regular and semi-bold. */
const regular = advances(
  '280 286 301 651 592 919 731 160 299 299 485 606 210 362 210 387 648 407 548 576 614 588 598 510 615 595 ' +
    '210 210 553 628 553 480 778 626 613 645 669 569 552 694 694 392 512 631 541 824 693 714 592 724 614 592 ' +
    '558 690 593 856 623 575 607 317 387 344 552 372 243 525 566 485 564 538 314 558 550 252 245 492 262 845 ' +
    '550 548 566 574 349 471 326 540 461 684 481 449 460 344 237 344 555',
);
const semibold = advances(
  '303 298 362 730 604 953 727 195 324 324 485 598 252 369 253 424 656 430 569 592 621 602 617 529 621 578 ' +
    '253 253 564 617 564 526 780 662 634 654 683 589 562 711 699 415 546 654 548 848 710 737 617 747 639 604 ' +
    '592 687 628 877 666 627 615 333 424 344 573 391 274 544 587 502 586 555 349 582 565 285 255 536 301 870 ' +
    '565 567 587 591 368 497 360 559 509 723 522 499 492 370 249 370 543',
);

function advances(list: string): readonly number[] {
  return list.split(' ').map(Number);
}

/** Control characters, marks that turn the writing direction, halves of surrogate pairs, non-characters. */
const unprintable = /[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029\uFFFE\uFFFF]/gu;

/**
 * A text of unknown origin as one line of printable characters.
 *
 * @param longest most characters to keep; what is cut is marked by an ellipsis
 */
export function plain(text: string, longest = 400): string {
  // Cut before the patterns run, so that a text of any length costs the same.
  const cut = text.slice(0, 4 * longest);
  const line = cut.replace(/\s+/gu, ' ').replace(unprintable, '').replaceAll('\u00B5', '\u03BC').trim();
  const letters = Array.from(line);
  if (letters.length <= longest && cut.length === text.length) return line;
  return `${letters.slice(0, longest - 1).join('')}…`;
}

/** Width of a line of text, px, by the metrics of the text family; other scripts are taken as wide. */
export function widthOf(text: string, size: number, bold = false): number {
  const table = bold ? semibold : regular;
  let sum = 0;
  for (const letter of text) {
    const code = letter.codePointAt(0) ?? 0;
    sum += table[code - 32] ?? (code < 0x2e80 ? 620 : 1000);
  }
  return (sum * size) / 1000;
}

/**
 * Breaks text into lines of at most a width, px; words longer than a line are broken.
 *
 * @param most most lines; the last one ends in an ellipsis where the text goes on
 */
export function wrap(text: string, width: number, size: number, most: number, bold = false): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of boundWords(plain(text))) {
    let rest = word;
    if (line !== '' && widthOf(`${line} ${rest}`, size, bold) <= width) {
      line += ` ${rest}`;
      continue;
    }
    if (line !== '') lines.push(line);
    while (widthOf(rest, size, bold) > width) {
      const head = beginning(rest, width, size, bold);
      lines.push(head);
      rest = rest.slice(head.length);
    }
    line = rest;
  }
  if (line !== '') lines.push(line);
  if (lines.length <= most) return lines;
  const last = lines[most - 1] ?? '';
  return [...lines.slice(0, most - 1), shorten(`${last} …`, width, size, bold)];
}

/** Words of a line, where a number keeps its uncertainty and its unit, as one word. */
function boundWords(line: string): string[] {
  return line
    .replace(/ ± /g, '\u00A0±\u00A0')
    .replace(/(\d) (?=(?:s|ms|min|K|°C|%|Hz|kHz|mm|L\/min)(?:[\s.,;:)]|$))/g, '$1\u00A0')
    .split(' ')
    .map((word) => word.replaceAll('\u00A0', ' '));
}

/** The longest beginning of a text that fits a width, at least one character. */
function beginning(text: string, width: number, size: number, bold: boolean): string {
  let head = '';
  for (const letter of text) {
    if (head !== '' && widthOf(head + letter, size, bold) > width) break;
    head += letter;
  }
  return head;
}

/** One line of text cut to a width, px, with an ellipsis where something was cut. */
export function shorten(text: string, width: number, size: number, bold = false): string {
  const line = plain(text);
  if (widthOf(line, size, bold) <= width) return line;
  return `${beginning(line, width - widthOf('…', size, bold), size, bold).trimEnd()}…`;
}

/** A number with a fixed count of decimals and a true minus sign; a negative zero loses its sign. */
export function fixed(value: number, decimals: number): string {
  const digits = value.toFixed(Math.min(Math.max(decimals, 0), 9));
  if (!digits.startsWith('-')) return digits;
  return /[1-9]/.test(digits) ? `\u2212${digits.slice(1)}` : digits.slice(1);
}

/** Decimals that show a quantity to two figures, 0 to 6: those of an uncertainty or of an interval's width. */
export function decimalsFor(uncertainty: number): number {
  if (!(uncertainty > 0)) return 3;
  return Math.min(Math.max(1 - Math.floor(Math.log10(uncertainty)), 0), 6);
}

/** Round values that divide an interval, and the decimals that they need. */
export interface Ticks {
  readonly values: readonly number[];
  readonly decimals: number;
}

/**
 * Multiples of 1, 2 or 5 times a power of ten within an interval.
 *
 * @param count about how many are wanted, at least 1
 */
export function roundTicks(low: number, high: number, count: number): Ticks {
  const span = high - low;
  if (!(span > 0) || !Number.isFinite(span)) return { values: [low], decimals: 1 };
  const power = 10 ** Math.floor(Math.log10(span / count));
  const ratio = span / count / power;
  const step = power * (ratio < 1.5 ? 1 : ratio < 3.5 ? 2 : ratio < 7.5 ? 5 : 10);
  const decimals = Math.min(Math.max(-Math.floor(Math.log10(step) + 1e-9), 0), 6);
  const values: number[] = [];
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  for (let k = first; k <= last && values.length < 100; k++) values.push(0 + k * step);
  return { values, decimals };
}

import { parseHTML } from 'linkedom';
import { type CellValue, functions, type Given } from './spreadsheet-functions.ts';

/** A cell as its file holds it. */
export type HeldCell =
  | { readonly kind: 'value'; readonly value: CellValue }
  | { readonly kind: 'formula'; readonly formula: string };

/**
 * The cells of a sheet by their names, from its XML (ECMA-376, part 1: 18.3.1.4 cell, 18.3.1.40 formula, 18.4.8 shared
 * string).
 *
 * @param strings of the shared strings of its workbook
 */
export function cellsOf(sheet: string, strings: string): Map<string, HeldCell> {
  const document = (xml: string) => {
    // What is empty is closed in its own tag, which HTML does not know.
    const closed = xml.replace(/^<\?xml[^>]*\?>/, '').replace(/<(\w+)([^<>]*)\/>/g, '<$1$2></$1>');
    return parseHTML(`<html><body>${closed}</body></html>`).document;
  };
  const shared = Array.from(document(strings).querySelectorAll('si'), (one) => one.textContent ?? '');
  const cells = new Map<string, HeldCell>();
  for (const cell of Array.from(document(sheet).querySelectorAll('c'))) {
    const name = cell.getAttribute('r') ?? '';
    const formula = cell.querySelector('f')?.textContent ?? null;
    const held = cell.querySelector('v')?.textContent ?? null;
    if (formula !== null) cells.set(name, { kind: 'formula', formula });
    else if (cell.getAttribute('t') === 's') {
      cells.set(name, { kind: 'value', value: shared[Number(held)] ?? '' });
    } else if (cell.getAttribute('t') === 'inlineStr') {
      cells.set(name, { kind: 'value', value: cell.querySelector('t')?.textContent ?? '' });
    } else if (held !== null) cells.set(name, { kind: 'value', value: Number(held) });
  }
  return cells;
}

/** Tokens of a formula: numbers, texts, ranges, cells, names of functions, and signs. */
const token =
  /\s*(?:(\d+(?:\.\d*)?(?:[eE][+-]?\d+)?)|"((?:[^"]|"")*)"|(\$?[A-Z]{1,3}\$?\d+):(\$?[A-Z]{1,3}\$?\d+)|(\$?[A-Z]{1,3}\$?\d+)|([A-Z]+)\(|(<=|>=|<>|[-+*/^(),<>=]))/y;

/** Works out the formulas of a sheet: those operators and functions of ECMA-376, part 1, 18.17, that it uses. */
export class Worksheet {
  readonly #cells: ReadonlyMap<string, HeldCell>;
  readonly #known = new Map<string, CellValue>();

  constructor(cells: ReadonlyMap<string, HeldCell>) {
    this.#cells = cells;
  }

  /** The value of a cell, worked out where it is a formula; null where it is empty. */
  value(name: string): CellValue {
    const known = this.#known.get(name);
    if (known !== undefined) return known;
    const cell = this.#cells.get(name);
    if (cell === undefined) return null;
    const value = cell.kind === 'value' ? cell.value : this.#worked(cell.formula);
    this.#known.set(name, value);
    return value;
  }

  #worked(formula: string): CellValue {
    const tokens: RegExpExecArray[] = [];
    token.lastIndex = 0;
    while (token.lastIndex < formula.length) {
      const found = token.exec(formula);
      if (found === null) throw new Error(`a formula that is not understood: ${formula}`);
      tokens.push(found);
    }
    let at = 0;
    const sign = () => tokens[at]?.[7];
    const expect = (wanted: string) => {
      if (sign() !== wanted) throw new Error(`${wanted} is missing in ${formula}`);
      at++;
    };
    const primary = (): Given => {
      const found = tokens[at++];
      if (found === undefined) throw new Error(`${formula} ends too early`);
      const [, number, text, from, to, cell, name, mark] = found;
      if (number !== undefined) return Number(number);
      if (text !== undefined) return text.replaceAll('""', '"');
      if (from !== undefined && to !== undefined) return this.#range(from, to);
      if (cell !== undefined) return this.value(cell.replaceAll('$', ''));
      if (name !== undefined) {
        const given: Given[] = [];
        while (sign() !== ')') {
          given.push(comparison());
          if (sign() === ',') at++;
        }
        expect(')');
        const known = functions[name];
        if (known === undefined) throw new Error(`the function ${name} is not known here`);
        return known(given);
      }
      if (mark === '-') return -asNumber(primary());
      if (mark === '(') {
        const inside = comparison();
        expect(')');
        return inside;
      }
      throw new Error(`${mark} is out of place in ${formula}`);
    };
    const left = (
      next: () => Given,
      apply: Readonly<Record<string, (a: number, b: number) => CellValue>>,
    ) => {
      let value = next();
      for (let mark = sign(); mark !== undefined; mark = sign()) {
        const operate = apply[mark];
        if (operate === undefined) break;
        at++;
        value = operate(asNumber(value), asNumber(next()));
      }
      return value;
    };
    // 18.17.2.2: negation before power, power before product, product before sum, sum before comparison.
    const power = () => left(primary, { '^': (a, b) => a ** b });
    const product = () => left(power, { '*': (a, b) => a * b, '/': (a, b) => a / b });
    const sum = () => left(product, { '+': (a, b) => a + b, '-': (a, b) => a - b });
    const comparison = (): Given => left(sum, { '<': (a, b) => a < b, '>': (a, b) => a > b });
    const value = comparison();
    if (at !== tokens.length || Array.isArray(value)) throw new Error(`${formula} is more than one value`);
    return value;
  }

  /** A range within one column. */
  #range(from: string, to: string): CellValue[] {
    const [first, last] = [from, to].map((one) => /^\$?([A-Z]+)\$?(\d+)$/.exec(one));
    if (first?.[1] !== last?.[1]) throw new Error(`${from}:${to} is more than one column`);
    const [top, bottom] = [Number(first?.[2]), Number(last?.[2])];
    return Array.from({ length: bottom - top + 1 }, (_, i) => this.value(`${first?.[1]}${top + i}`));
  }
}

function asNumber(value: Given): number {
  if (typeof value === 'number') return value;
  throw new Error(`${JSON.stringify(value)} is no number`);
}

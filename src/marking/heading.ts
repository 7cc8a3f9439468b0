import { parseQuantity, type Unit, unitsOf } from '../quantity/index.ts';
import { columnFor, type PlaceColumn, type QuantityColumn } from './columns.ts';

/** What a column of a sheet is, by its heading. */
export type Heading =
  | { readonly kind: 'place'; readonly place: PlaceColumn }
  | {
      readonly kind: 'quantity';
      readonly column: QuantityColumn;
      /** Null where the heading has none. */
      readonly unit: Unit | null;
      /** Whether the unit is % of the time constant of the same row. */
      readonly percent: boolean;
    }
  /** A quantity that is known, in a unit that is not. */
  | { readonly kind: 'unit-unknown'; readonly column: QuantityColumn; readonly unit: string }
  | { readonly kind: 'unknown' };

/** Longest heading that is looked at. */
const longest = 200;

/**
 * Understands a heading with its unit: `predicted time constant / s`, `h [W/(m² K)]`, `tau origin (min)`, `tau in ms`.
 */
export function understandHeading(text: string): Heading {
  const heading = text.slice(0, longest).trim();
  const whole = columnFor(heading);
  if (whole?.kind === 'place') return whole;
  if (whole?.kind === 'quantity') return { ...whole, unit: null, percent: false };
  let unread: Heading = { kind: 'unknown' };
  for (const { name, unit } of waysToPart(heading)) {
    const found = columnFor(name);
    if (found === null) continue;
    if (found.kind === 'place') return found;
    const understood = unitFor(found.column, unit);
    if (understood !== null) return { kind: 'quantity', column: found.column, ...understood };
    unread = { kind: 'unit-unknown', column: found.column, unit };
  }
  return unread;
}

/** Every way to take a unit off the end of a heading, the likeliest first. */
function waysToPart(heading: string): { readonly name: string; readonly unit: string }[] {
  const ways: { name: string; unit: string }[] = [];
  const bracketed = /^(.*?)\s*(?:\[([^[\]]*)\]|\((.*)\))$/.exec(heading);
  if (bracketed !== null) {
    ways.push({ name: bracketed[1] ?? '', unit: (bracketed[2] ?? bracketed[3] ?? '').trim() });
  }
  for (let at = heading.indexOf('/'); at > 0; at = heading.indexOf('/', at + 1)) {
    ways.push({ name: heading.slice(0, at), unit: heading.slice(at + 1).trim() });
  }
  const worded = /^(.*)\s+in\s+(\S.*)$/.exec(heading);
  if (worded !== null) ways.push({ name: worded[1] ?? '', unit: (worded[2] ?? '').trim() });
  return ways;
}

/** A unit as it stands in a heading or behind a number; null where it is none of this quantity. */
export function unitFor(
  { dimension, quantity }: QuantityColumn,
  text: string,
): { readonly unit: Unit | null; readonly percent: boolean } | null {
  const isUncertainty = quantity.endsWith('uncertainty');
  if (isUncertainty && /^(?:%|percent|pct)$/i.test(text)) return { unit: null, percent: true };
  if (dimension === 'ratio' && /^(?:|1|-|–|—)$/.test(text)) {
    return { unit: unitsOf('ratio')[0] ?? null, percent: false };
  }
  const parsed = parseQuantity(`1 ${text}`, dimension);
  return parsed.ok ? { unit: parsed.unit, percent: false } : null;
}

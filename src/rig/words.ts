import type { Experiment } from '../experiment/index.ts';
import { formatSignificant, fromSI, parseQuantity, type Unit, unitsOf } from '../quantity/index.ts';
import type { Expectation } from './expectation.ts';
import { type RigKind, rigKind } from './kinds.ts';
import type { RigCheck, RigCheckKind } from './types.ts';
import { flowCount, roomPressure } from './value.ts';

/** What was checked, with its subject: `diameter of brass-12`, `flow 120`. */
export function checkedThing(kind: RigCheckKind, subject: string | null): string {
  const { name, of } = rigKind(kind);
  if (subject === null) return name;
  return of === 'flow' ? `${name} ${subject}` : `${name} of ${subject}`;
}

/**
 * What a check should show and how far it may be off, in the unit of the check: `1.3 mV ± 2.4 mV`.
 *
 * @param written the check as it was typed; null where there is none
 */
export function limitWords(
  experiment: Experiment,
  kind: RigCheckKind,
  subject: string | null,
  { expected, tolerance }: Expectation,
  written: string | null,
): string {
  const about = rigKind(kind);
  const { unit, gauge } = unitOf(experiment, about, subject, written);
  const middle = fromSI(gauge ? expected - roomPressure(experiment) : expected, unit);
  const reach = tolerance / unit.factor;
  const mark = about.dimension !== 'pressure' ? '' : gauge ? '(g)' : '(a)';
  const symbol = unit.symbol === '1' ? '' : ` ${unit.symbol}${mark}`;
  const difference = unit.symbol === '°C' ? ' K' : unit.symbol === '1' ? '' : ` ${unit.symbol}`;
  return `${rounded(middle, reach)}${symbol} ± ${formatSignificant(reach, 2)}${difference}`;
}

/** A number to the place that matters beside its limits. */
function rounded(value: number, reach: number): string {
  const places = reach > 0 ? Math.min(12, Math.max(0, 1 - Math.floor(Math.log10(reach)))) : 6;
  return String(Number(value.toFixed(places)));
}

function unitOf(
  experiment: Experiment,
  about: RigKind,
  subject: string | null,
  written: string | null,
): { readonly unit: Unit; readonly gauge: boolean } {
  const counts = about.kind === 'flow' ? flowCount(experiment, subject) : null;
  if (counts === 'mass') return { unit: gramsPerSecond, gauge: false };
  const dimension = counts === 'speed' ? 'speed' : about.dimension;
  const parsed = written === null ? null : parseQuantity(written, dimension);
  if (parsed?.ok) return { unit: parsed.unit, gauge: parsed.reference === 'gauge' };
  const units = unitsOf(dimension);
  const unit = units.find(({ spellings }) => spellings.includes(about.unit)) ?? units[0];
  return { unit: unit ?? plain, gauge: dimension === 'pressure' };
}

const gramsPerSecond: Unit = {
  dimension: 'mass',
  symbol: 'g/s',
  factor: 1e-3,
  offset: 0,
  spellings: [],
};

const plain: Unit = { dimension: 'ratio', symbol: '1', factor: 1, offset: 0, spellings: [] };

/** A time that has passed, in the unit that people would say it in. */
export function passedWords(seconds: number): string {
  const minutes = seconds / 60;
  if (minutes < 90) return counted(Math.round(minutes), 'minute');
  const hours = minutes / 60;
  if (hours < 36) return counted(Math.round(hours), 'hour');
  return counted(Math.round(hours / 24), 'day');
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`;
}

/** Bench and thing at the head of a sentence: `bench-2, gain`. */
export function placeWords(bench: string | null, kind: RigCheckKind, subject: string | null): string {
  const thing = checkedThing(kind, subject);
  if (bench === null) return `${thing.charAt(0).toUpperCase()}${thing.slice(1)}`;
  return `${bench}, ${thing}`;
}

/** The latest of the checks by their own times; of equal ones the one that was kept last. */
export function latestOf(checks: readonly RigCheck[]): RigCheck | null {
  let latest: RigCheck | null = null;
  let time = Number.NEGATIVE_INFINITY;
  for (const check of checks) {
    const made = Date.parse(check.at);
    if (!(made >= time)) continue;
    latest = check;
    time = made;
  }
  return latest;
}

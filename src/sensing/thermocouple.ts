import { aboutCentre, derivativeOf, polynomial } from './polynomial.ts';
import { inverseSegments } from './thermocouple-inverse-start.ts';
import { referenceSegments, typeKExponential } from './thermocouple-reference.ts';
import type { Conversion, OutOfRange, ThermocoupleType } from './thermocouple-types.ts';

/** A reference function, ready for fast use. Numbers outside the range give NaN. */
export interface ReferenceFunction {
  readonly type: ThermocoupleType;
  /** Temperatures between which the function is defined, °C. */
  readonly from: number;
  readonly to: number;
  /** Lowest temperature that an emf tells, °C: above `from` for type B only, which falls before it rises. */
  readonly tellsFrom: number;
  /** Emf at that temperature and at the upper end, V. */
  readonly lowestEmf: number;
  readonly highestEmf: number;
  /** Emf against a reference junction at 0 °C, V. */
  emf(t: number): number;
  /** Seebeck coefficient, the derivative of the emf, V/K. */
  seebeck(t: number): number;
  /** Derivative of the Seebeck coefficient, V/K². */
  seebeckSlope(t: number): number;
  /**
   * Temperature, °C, that belongs to an emf in V: a root of the reference function, good to 1e-9 °C.
   *
   * @param near a temperature close by, to start from instead of the published approximate inverse
   */
  temperature(emf: number, near?: number): number;
}

interface Segment {
  readonly to: number;
  readonly centre: number;
  /** Emf in V, its first and its second derivative, by powers of t - centre. */
  readonly emf: Float64Array;
  readonly first: Float64Array;
  readonly second: Float64Array;
}

const voltsPerMillivolt = 1e-3;

function segmentsOf(type: ThermocoupleType): readonly Segment[] {
  return referenceSegments[type].map(({ from, to, coefficients }) => {
    const centre = Math.round((from + to) / 2);
    const emf = aboutCentre(coefficients, centre).map((c) => c * voltsPerMillivolt);
    const first = derivativeOf(emf);
    return { to, centre, emf, first, second: derivativeOf(first) };
  });
}

/** A step of Newton's method this small leaves an error below 1e-10 °C, for the next one is its square. */
const lastStep = 1e-5;
const mostSteps = 60;
/** An emf this far beyond the ends of the range still belongs to the end, V: less than 1e-9 °C. */
const rounding = 1e-15;

function makeReference(type: ThermocoupleType): ReferenceFunction {
  const segments = segmentsOf(type);
  const from = referenceSegments[type][0]?.from ?? Number.NaN;
  const to = segments.at(-1)?.to ?? Number.NaN;
  const exponential = type === 'K';

  const find = (t: number): Segment | null => {
    if (!(t >= from && t <= to)) return null;
    for (const segment of segments) if (t <= segment.to) return segment;
    return null;
  };
  const bump = (t: number) =>
    voltsPerMillivolt *
    typeKExponential.amplitude *
    Math.exp(typeKExponential.rate * (t - typeKExponential.centre) ** 2);
  const emf = (t: number): number => {
    const segment = find(t);
    if (segment === null) return Number.NaN;
    const value = polynomial(segment.emf, t - segment.centre);
    return exponential && t > 0 ? value + bump(t) : value;
  };
  const seebeck = (t: number): number => {
    const segment = find(t);
    if (segment === null) return Number.NaN;
    const value = polynomial(segment.first, t - segment.centre);
    if (!(exponential && t > 0)) return value;
    return value + bump(t) * 2 * typeKExponential.rate * (t - typeKExponential.centre);
  };
  const seebeckSlope = (t: number): number => {
    const segment = find(t);
    if (segment === null) return Number.NaN;
    const value = polynomial(segment.second, t - segment.centre);
    if (!(exponential && t > 0)) return value;
    const r = typeKExponential.rate;
    return value + bump(t) * (2 * r + (2 * r * (t - typeKExponential.centre)) ** 2);
  };

  // Type B: the emf falls from 0 at 0 °C to -2.6 µV at 21 °C and is back at 0 at 42 °C. Below that an emf
  // belongs to two temperatures, and above it the first microvolts tell little.
  const tellsFrom = type === 'B' ? bisect(emf, 0, 30, 60) : from;
  const lowestEmf = emf(tellsFrom);
  const highestEmf = emf(to);
  const starts = inverseSegments[type].map((stretch) => ({
    to: stretch.to * voltsPerMillivolt,
    coefficients: Float64Array.from(stretch.coefficients),
  }));
  const startAt = (e: number): number => {
    for (const stretch of starts) if (e <= stretch.to) return polynomial(stretch.coefficients, e * 1e3);
    return to;
  };
  const temperature = (e: number, near = Number.NaN): number => {
    if (!(e >= lowestEmf - rounding && e <= highestEmf + rounding)) return Number.NaN;
    let low = tellsFrom;
    let high = to;
    // The approximate inverse runs wild where it was not made for, near the ends of the range.
    let t = near >= low && near <= high ? near : Math.min(Math.max(startAt(e), low), high);
    for (let k = 0; k < mostSteps; k++) {
      const segment = find(t);
      if (segment === null) return Number.NaN;
      // Emf and slope in one pass: this loop runs for every block of a recording.
      const { emf: coefficients, centre } = segment;
      const x = t - centre;
      let excess = 0;
      let slope = 0;
      for (let j = coefficients.length - 1; j >= 0; j--) {
        slope = slope * x + excess;
        excess = excess * x + (coefficients[j] ?? 0);
      }
      excess -= e;
      if (exponential && t > 0) {
        const extra = bump(t);
        excess += extra;
        slope += extra * 2 * typeKExponential.rate * (t - typeKExponential.centre);
      }
      if (excess === 0) return t;
      if (excess > 0) high = t;
      else low = t;
      const next = t - excess / slope;
      // The stretches meet to within nanovolts only: a step across a joint is taken again on the other side.
      if (Math.abs(next - t) < lastStep && find(next) === segment)
        return Math.min(Math.max(next, tellsFrom), to);
      t = next > low && next < high ? next : (low + high) / 2;
      if (high - low < 1e-11) return t;
    }
    return t;
  };
  return { type, from, to, tellsFrom, lowestEmf, highestEmf, emf, seebeck, seebeckSlope, temperature };
}

/** Temperature between two others at which a rising function passes a level. */
function bisect(rising: (t: number) => number, level: number, from: number, to: number): number {
  let low = from;
  let high = to;
  while (high - low > 1e-12 * high) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (rising(middle) < level) low = middle;
    else high = middle;
  }
  return high;
}

/** The least emf of type B, at 21 °C, V. */
const deepestB = -2.586e-6;

const made = new Map<ThermocoupleType, ReferenceFunction>();

/**
 * The ITS-90 reference function of a letter type (NIST Monograph 175, 1993; IEC 60584-1), with derivatives and
 * exact inverse, for many conversions.
 */
export function thermocoupleReference(type: ThermocoupleType): ReferenceFunction {
  const known = made.get(type);
  if (known !== undefined) return known;
  const reference = makeReference(type);
  made.set(type, reference);
  return reference;
}

/**
 * Emf of a thermocouple, V, by its ITS-90 reference function.
 *
 * @param t temperature of the measuring junction, °C
 * @param junction temperature of the reference junction, °C; 0 where left out
 * @returns NaN where one of them is outside the range of the function
 */
export function thermocoupleEmf(type: ThermocoupleType, t: number, junction = 0): number {
  const reference = thermocoupleReference(type);
  return reference.emf(t) - (junction === 0 ? 0 : reference.emf(junction));
}

/**
 * Temperature of the measuring junction, °C, from a measured emf. The reference junction is taken into account by
 * adding its emf, never its temperature: the function is not straight.
 *
 * @param emf measured emf, V
 * @param junction temperature of the reference junction, °C; 0 where left out
 */
export function thermocoupleTemperature(type: ThermocoupleType, emf: number, junction = 0): Conversion {
  const reference = thermocoupleReference(type);
  if (junction < reference.from) return { ok: false, reason: 'below-range' };
  if (junction > reference.to) return { ok: false, reason: 'above-range' };
  const total = emf + thermocoupleEmf(type, junction);
  const value = reference.temperature(total);
  return Number.isNaN(value) ? { ok: false, reason: whyNot(reference, total) } : { ok: true, value };
}

function whyNot(reference: ReferenceFunction, emf: number): OutOfRange {
  if (Number.isNaN(emf)) return 'not-a-number';
  if (emf > reference.highestEmf) return 'above-range';
  return reference.tellsFrom > reference.from && emf >= deepestB ? 'ambiguous' : 'below-range';
}

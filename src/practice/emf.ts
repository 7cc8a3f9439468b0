import { referenceSegments, type ThermocoupleType, typeKExponential } from '../sensing/index.ts';
import type { MistakenType } from './bench-types.ts';

const voltsPerMillivolt = 1e-3;

/** A value, its derivative, and which stretch of the published functions they come from. */
interface Jet {
  readonly value: number;
  readonly slope: number;
  readonly stretch: number;
}

/**
 * Emf of a thermocouple against a reference junction at 0 °C, V, from the table of ITS-90 reference functions (NIST
 * Monograph 175, Burns et al., 1993; IEC 60584-1).
 *
 * @param t temperature of the measuring junction, °C
 * @throws RangeError where the function is not defined at that temperature
 */
export function emfAt(type: ThermocoupleType, t: number): number {
  return emfJet(type, t).value;
}

/** Emf, V, and Seebeck coefficient, V/K. */
function emfJet(type: ThermocoupleType, t: number): Jet {
  const stretch = stretchAt(type, t);
  const coefficients = referenceSegments[type][stretch]?.coefficients ?? [];
  let value = 0;
  let slope = 0;
  for (let k = coefficients.length - 1; k >= 0; k--) {
    slope = slope * t + value;
    value = value * t + (coefficients[k] ?? 0);
  }
  if (type === 'K' && t > 0) {
    const { amplitude, rate, centre } = typeKExponential;
    const term = amplitude * Math.exp(rate * (t - centre) ** 2);
    value += term;
    slope += 2 * rate * (t - centre) * term;
  }
  return { value: value * voltsPerMillivolt, slope: slope * voltsPerMillivolt, stretch };
}

function stretchAt(type: ThermocoupleType, t: number): number {
  const stretch = referenceSegments[type].findIndex(({ from, to }) => t >= from && t <= to);
  if (stretch < 0) {
    const { from, to } = rangeOf(type);
    throw new RangeError(
      `A type ${type} thermocouple has no emf at ${t} °C: its reference function goes from ${from} to ${to} °C.`,
    );
  }
  return stretch;
}

function rangeOf(type: ThermocoupleType): { from: number; to: number } {
  const segments = referenceSegments[type];
  return { from: segments[0]?.from ?? Number.NaN, to: segments.at(-1)?.to ?? Number.NaN };
}

/** The emf of type B falls until here, °C, and only then rises. */
const lowestOfTypeB = 21.02;

/**
 * Temperature, °C, at which a thermocouple with its reference junction at 0 °C has an emf: the root of `emfAt`, by
 * bisection. For type B the one above 21 °C.
 *
 * @param emf V
 * @throws RangeError where no temperature has that emf
 */
export function temperatureAt(type: ThermocoupleType, emf: number): number {
  const { from, to } = rangeOf(type);
  let low = type === 'B' ? lowestOfTypeB : from;
  let high = to;
  if (!(emf >= emfAt(type, low) && emf <= emfAt(type, high))) {
    throw new RangeError(`No temperature gives a type ${type} thermocouple an emf of ${emf} V.`);
  }
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (emfAt(type, middle) < emf) low = middle;
    else high = middle;
  }
}

/** A function of the temperature in °C, made fast for one stretch of it. */
export type Tabulated = (t: number) => number;

/**
 * Emf, V, against a reference junction at 0 °C, for many temperatures between two.
 *
 * @param from lowest temperature that will be asked for, °C
 * @param to highest
 * @throws RangeError where the reference function does not reach so far
 */
export function tabulatedEmf(type: ThermocoupleType, from: number, to: number): Tabulated {
  return tabulate((t) => emfJet(type, t), from, to);
}

/**
 * What a logger set to one type shows of a junction of another, °C, for many temperatures of the junction: the
 * temperature at which the type that the logger takes it for has the emf between junction and terminals, with what that
 * type has at the terminals added.
 *
 * @param mistaken the two types, and the temperature of the terminals
 * @param from lowest temperature of the junction that will be asked for, °C
 * @param to highest
 * @throws RangeError where one of the two reference functions does not reach so far
 */
export function tabulatedMistake(
  { junction, setTo, terminals }: MistakenType,
  from: number,
  to: number,
): Tabulated {
  const added = emfAt(setTo, terminals) - emfAt(junction, terminals);
  const jet = (t: number): Jet => {
    const emf = emfJet(junction, t);
    const value = temperatureAt(setTo, emf.value + added);
    const shown = emfJet(setTo, value);
    const stretch = emf.stretch * referenceSegments[setTo].length + shown.stretch;
    return { value, slope: emf.slope / shown.slope, stretch };
  };
  return tabulate(jet, from, to);
}

/**
 * Width of a cell, K. The error of cubic Hermite interpolation is at most width⁴/384 of the fourth derivative (Burden
 * & Faires, Numerical Analysis, theorem 3.9), for every letter type far below a nanovolt.
 */
const cellWidth = 0.25;

/** Cubic Hermite interpolation on an even grid from one temperature to another. */
function tabulate(jet: (t: number) => Jet, from: number, to: number): Tabulated {
  // Asked for first, so that a stretch outside the range is refused before there is a grid for it.
  jet(from);
  const last = jet(to);
  const cells = Math.max(1, Math.ceil((to - from) / cellWidth));
  const width = to > from ? (to - from) / cells : 1;
  const nodes = Array.from({ length: cells + 1 }, (_, i) =>
    i < cells ? jet(Math.min(from + i * width, to)) : last,
  );
  const values = Float64Array.from(nodes, ({ value }) => value);
  const slopes = Float64Array.from(nodes, ({ slope }) => slope * width);
  // The published stretches meet at an angle, type N by 0.2 µV/K: no cubic goes around that corner.
  const cornered = Uint8Array.from(nodes, ({ stretch }, i) => (nodes[i + 1]?.stretch === stretch ? 0 : 1));
  return (t) => {
    const at = (t - from) / width;
    const i = Math.min(Math.max(Math.floor(at), 0), cells - 1);
    if (cornered[i] === 1) return jet(t).value;
    const x = at - i;
    const a = values[i] ?? Number.NaN;
    const b = values[i + 1] ?? Number.NaN;
    const p = slopes[i] ?? Number.NaN;
    const q = slopes[i + 1] ?? Number.NaN;
    const rise = b - a;
    return a + x * (p + x * (3 * rise - 2 * p - q + x * (p + q - 2 * rise)));
  };
}

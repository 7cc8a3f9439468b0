import type { Dimension } from '../quantity/index.ts';
import type { RigCheckKind } from './types.ts';

/** How often something is checked. */
export type Freshness = 'session' | 'term' | 'year';

/** What is known of a kind of check, apart from any rig. */
export interface RigKind {
  readonly kind: RigCheckKind;
  /** In a sentence: `the zero with shorted input`. */
  readonly name: string;
  /** What a check of it is about: the bench, or one flow of a bench, or a body that goes from bench to bench. */
  readonly of: 'bench' | 'flow' | 'body';
  /** Whether one check may stand for all benches, as for an air supply that they share. */
  readonly shared: boolean;
  /** Of the value; a flow is read as its meter counts. */
  readonly dimension: Dimension;
  /** Unit in which limits are said where no check says one. */
  readonly unit: string;
  readonly example: string;
  readonly freshness: Freshness;
  /** How far a check may be off where the experiment file states no uncertainty: a part of the value, or in SI. */
  readonly usual: { readonly part: number } | { readonly within: number } | null;
  /** One sentence: how the check is made. */
  readonly how: string;
  /** One sentence: what to take care of. */
  readonly care: string;
  /** One sentence: what to do where it is outside its limits. */
  readonly mend: string;
}

const airCare =
  'Wear eye protection, keep the jet and loose hose ends off skin, eyes and ears, open the valve slowly, and use hearing protection where the jet is loud.';
const bodyCare = 'Touch a body only after it has cooled to the room: hot metal looks like cold metal.';

/** Tolerances, intervals and procedures: common practice, no source. */
export const rigKinds: readonly RigKind[] = [
  {
    kind: 'zero',
    name: 'zero with shorted input',
    of: 'bench',
    shared: false,
    dimension: 'voltage',
    unit: 'mV',
    example: '1.3 mV',
    freshness: 'session',
    usual: null,
    how: 'Short the input of the amplifier at its terminals, wait half a minute, and read the mean at the logger.',
    care: 'Short the low-voltage input only, and leave the covers of everything on the mains closed.',
    mend: 'Let the amplifier warm up and check again; if it stays, write the new zero under sensor in the experiment file.',
  },
  {
    kind: 'gain',
    name: 'gain',
    of: 'bench',
    shared: false,
    dimension: 'ratio',
    unit: '1',
    example: '200.3',
    freshness: 'term',
    usual: { part: 0.01 },
    how: 'Put a known millivolt source on the input, and divide the change at the logger by the change at the input.',
    care: 'Connect a millivolt source only, and leave the covers of everything on the mains closed.',
    mend: 'Check the source and the wiring and measure again; if it stays, write the new gain under sensor in the experiment file.',
  },
  {
    kind: 'ice-point',
    name: 'ice point',
    of: 'bench',
    shared: false,
    dimension: 'temperature',
    unit: 'degC',
    example: '0.1 degC',
    freshness: 'session',
    usual: { within: 0.5 },
    how: 'Hold the sensor in the middle of crushed, drained ice for two minutes, and read the temperature.',
    care: 'Keep water away from the mains, the heater and the logger, and wipe up what is spilt.',
    mend: 'Make the ice bath anew, crushed and drained, and check again; if it stays, look at the reference junction and the zero.',
  },
  {
    kind: 'jet-temperature',
    name: 'temperature of the running jet',
    of: 'bench',
    shared: false,
    dimension: 'temperature',
    unit: 'degC',
    example: '20.4 degC',
    freshness: 'session',
    usual: { within: 2 },
    how: 'Hold the cold sensor in the running jet for a minute, and read the temperature.',
    care: airCare,
    mend: 'Let the air run for some minutes and check again; if it stays, write it under supply in the experiment file.',
  },
  {
    kind: 'flow',
    name: 'flow',
    of: 'flow',
    shared: false,
    dimension: 'flow',
    unit: 'L/min',
    example: '118 L/min',
    freshness: 'session',
    usual: { part: 0.05 },
    how: 'Set the flow as for a trial, wait until the reading stands still, and read the meter at eye level.',
    care: airCare,
    mend: 'Set the flow again with the supply steady, and see that the float moves freely and nothing leaks.',
  },
  {
    kind: 'supply-pressure',
    name: 'supply pressure',
    of: 'bench',
    shared: true,
    dimension: 'pressure',
    unit: 'bar',
    example: '6.0 bar(g)',
    freshness: 'session',
    usual: { part: 0.1 },
    how: 'Read the gauge before the regulator while the jet runs, over one cycle of the compressor.',
    care: airCare,
    mend: 'Wait for the compressor, look at the regulator and at other users of the line, and check again.',
  },
  {
    kind: 'diameter',
    name: 'diameter',
    of: 'body',
    shared: true,
    dimension: 'length',
    unit: 'mm',
    example: '12.01 mm',
    freshness: 'year',
    usual: { part: 0.005 },
    how: 'Measure in three directions with a caliper or micrometer, and take the mean.',
    care: bodyCare,
    mend: 'See whether it is the body of that code and measure again; if it stays, write the diameter into the experiment file.',
  },
  {
    kind: 'mass',
    name: 'mass',
    of: 'body',
    shared: true,
    dimension: 'mass',
    unit: 'g',
    example: '7.71 g',
    freshness: 'year',
    usual: { part: 0.01 },
    how: 'Weigh the body with its wires held up, on a balance that was set to zero.',
    care: bodyCare,
    mend: 'See whether it is the body of that code and weigh again; if it stays, write the mass into the experiment file.',
  },
];

const byKind = new Map(rigKinds.map((one) => [one.kind, one]));

/** What is known of a kind of check. */
export function rigKind(kind: RigCheckKind): RigKind {
  const found = byKind.get(kind);
  if (found === undefined) throw new Error(`${kind} is no kind of check`);
  return found;
}

/** The kind that goes by a name; null for other names. */
export function rigKindNamed(name: string): RigKind | null {
  return rigKinds.find(({ kind }) => kind === name) ?? null;
}

const day = 86_400;
/** What was checked before the doors opened is good for the session, s. */
const before = 3600;
/** Of a session whose length is not stated, s. */
const usualSession = 4 * 3600;
const term = 183 * day;
const year = 366 * day;

/**
 * How long a check is good for: a session with an hour before it, half a year, a year. Common practice, no source.
 *
 * @param sessionLength s; undefined where the experiment file states none
 * @returns s
 */
export function goodFor(freshness: Freshness, sessionLength: number | undefined): number {
  if (freshness === 'session') return (sessionLength ?? usualSession) + before;
  return freshness === 'term' ? term : year;
}

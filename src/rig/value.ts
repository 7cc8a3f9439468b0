import { type Experiment, entryOf, readReading } from '../experiment/index.ts';
import { type Dimension, parseQuantity } from '../quantity/index.ts';
import type { RigKind } from './kinds.ts';

/** A value that was read, or what is wrong with it and what to write. */
export type ReadValue =
  | { readonly ok: true; readonly value: number; readonly written: string }
  | { readonly ok: false; readonly message: string; readonly mend: string };

/** What a bench can have at all, SI; outside of it a unit or a digit was mistyped. Common practice, no source. */
const possible: Readonly<Record<RigKind['kind'], readonly [low: number, high: number, words: string]>> = {
  zero: [-100, 100, 'a voltage from -100 V to 100 V'],
  gain: [1e-3, 1e6, 'a gain from 0.001 to 1000000'],
  'ice-point': [-20, 40, 'a temperature from -20 degC to 40 degC'],
  'jet-temperature': [-40, 80, 'a temperature from -40 degC to 80 degC'],
  flow: [1e-9, 1e5, 'a flow above 0'],
  'supply-pressure': [5e4, 3e6, 'a pressure up to 30 bar(a)'],
  diameter: [1e-5, 0.5, 'a diameter from 0.01 mm to 0.5 m'],
  mass: [1e-12, 1000, 'a mass above 0 and up to 1000 kg'],
};

/** What a gauge counts from where the experiment file has no pressure of the room: the standard atmosphere, Pa. */
const standardAtmosphere = 101_325;

/** Pressure of the room, Pa absolute. */
export function roomPressure({ room }: Experiment): number {
  return room?.pressure.value ?? standardAtmosphere;
}

/** By what a flow of the experiment file is counted; volume for a code that it does not have. */
export function flowCount(experiment: Experiment, flow: string | null): 'volume' | 'mass' | 'speed' {
  const setting = flow === null ? undefined : entryOf(experiment.flows, flow);
  if (setting?.kind === 'speed') return 'speed';
  return setting?.kind === 'metered' ? setting.counts : 'volume';
}

/**
 * Reads the value of a check as a person types it: a number with its unit, `1.3 mV`, `6.0 bar(g)`; a gain as a number.
 *
 * @param subject code of the flow, where it is one
 * @returns the value in SI, a temperature in °C, a pressure in Pa absolute
 */
export function readCheckValue(
  experiment: Experiment,
  { kind, dimension }: RigKind,
  subject: string | null,
  text: string,
): ReadValue {
  const written = text.trim().replace(/\s+/g, ' ');
  const [low, high, words] = possible[kind];
  const read =
    kind === 'flow'
      ? readFlow(flowCount(experiment, subject), written)
      : readPlain(experiment, dimension, written);
  if (!read.ok || (read.value >= low && read.value <= high)) return read;
  return { ok: false, message: `"${written}" is not possible here.`, mend: `Write ${words}.` };
}

function readPlain(experiment: Experiment, dimension: Dimension, written: string): ReadValue {
  const parsed = parseQuantity(written, dimension);
  if (!parsed.ok) return { ok: false, message: parsed.problem, mend: parsed.mend };
  if (dimension !== 'pressure') return { ok: true, value: parsed.value, written };
  if (parsed.reference === 'absolute') return { ok: true, value: parsed.value, written };
  if (parsed.reference === 'gauge') {
    return { ok: true, value: parsed.value + roomPressure(experiment), written };
  }
  return {
    ok: false,
    message: `"${written}" can be gauge or absolute.`,
    mend: `Write ${written}(g) for what a gauge shows, or ${written}(a) for absolute pressure.`,
  };
}

function readFlow(counts: 'volume' | 'mass' | 'speed', written: string): ReadValue {
  if (counts === 'speed') {
    const parsed = parseQuantity(written, 'speed');
    if (parsed.ok) return { ok: true, value: parsed.value, written };
    return { ok: false, message: parsed.problem, mend: parsed.mend };
  }
  // Its messages hold the sentence on what to write; longer texts are no reading.
  const read = readReading(written.slice(0, 200));
  if (!read.ok) return { ok: false, message: read.message, mend: 'Write it as the meter shows it.' };
  if (read.value.counts === counts) return { ok: true, value: read.value.reading.value, written };
  return {
    ok: false,
    message: `"${written}" is a flow of ${read.value.counts}, and this one is counted by ${counts}.`,
    mend: `Write it as the experiment file does, such as ${counts === 'mass' ? '2.4 g/s' : '120 L/min'}.`,
  };
}

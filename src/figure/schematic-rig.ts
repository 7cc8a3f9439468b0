import type { Experiment } from '../experiment/index.ts';
import type { FigureTable } from './table.ts';
import { fixed } from './words.ts';

/** A part of the rig with its numbers, as they are read at the bench. */
export interface RigPart {
  readonly kind:
    | 'supply'
    | 'valve'
    | 'variable-area'
    | 'thermal-mass'
    | 'volumetric'
    | 'mass'
    | 'ice-bath'
    | 'reference'
    | 'amplifier'
    | 'logger';
  readonly name: string;
  readonly numbers: readonly string[];
}

/** Bodies of one shape and size. */
export interface RigBody {
  readonly names: readonly string[];
  readonly shape: 'sphere' | 'bead' | 'wire';
  /** m; null where the file states none. */
  readonly diameter: number | null;
}

/** A rig as it is drawn: along the air to the body, and along the signal from there. */
export interface Rig {
  readonly course: string | null;
  /** From the supply to the last part before the nozzle; empty where there is only still air. */
  readonly air: readonly RigPart[];
  /** m; null where none is stated. */
  readonly nozzle: { readonly diameter: number; readonly standOff: number } | null;
  /** Largest first. */
  readonly bodies: readonly RigBody[];
  /** The sensor in the body and its wires. */
  readonly sensor: string;
  /** From the body to the logger. */
  readonly signal: readonly RigPart[];
  /** The air that heats. */
  readonly heating: string;
  /** Room and jet in a few words each. */
  readonly surroundings: readonly string[];
}

/**
 * The rig of an experiment file.
 *
 * @param body code of the one body to draw; all of them where it is left out
 */
export function rigOf(experiment: Experiment, body?: string): Rig {
  const { course, heating, flows, nozzle } = experiment;
  const moving = Object.values(flows).some(({ kind }) => kind !== 'still');
  return {
    course: course ?? null,
    air: moving ? airParts(experiment) : [],
    nozzle:
      moving && nozzle !== undefined
        ? { diameter: nozzle.diameter.value, standOff: nozzle['stand-off'].value }
        : null,
    bodies: bodiesOf(experiment, body),
    sensor: sensorWords(experiment),
    signal: signalParts(experiment),
    heating: heating.stream === undefined ? 'hot air' : `hot air, ${short(heating.stream)} °C`,
    surroundings: surroundingsOf(experiment, moving),
  };
}

function airParts({ supply, meter, flows }: Experiment): RigPart[] {
  const settings = Object.values(flows).filter(({ kind }) => kind !== 'still');
  const set = settings.map(({ written }) => written.split(/\s*(?:\+-|\+\/-|±)/)[0] ?? written);
  const words = `${oneUnit(set.slice(0, 6))}${set.length > 6 ? ` and ${set.length - 6} more` : ''}`;
  const pressure = supply?.pressure;
  const parts: RigPart[] = [
    { kind: 'supply', name: 'air supply', numbers: pressure === undefined ? [] : [pressureWords(pressure)] },
  ];
  if (meter === undefined) {
    const speeds = settings.some(({ kind }) => kind === 'speed');
    parts.push({
      kind: 'valve',
      name: 'valve',
      numbers: [speeds ? `for ${words} at the body` : `for ${words}`],
    });
    return parts;
  }
  parts.push({ kind: 'valve', name: 'valve', numbers: [] });
  const numbers = [`set to ${words}`];
  if ('reference' in meter) {
    const { pressure, temperature } = meter.reference;
    numbers.push(`scale for ${short(pressure.value / 1000)} kPa, ${short(temperature)} °C`);
  }
  if (meter.line !== undefined) {
    numbers.push(`inside ${pressureWords(meter.line.pressure)}, ${short(meter.line.temperature.value)} °C`);
  }
  parts.push({ kind: meter.kind, name: meterNames[meter.kind], numbers });
  return parts;
}

const meterNames = {
  'variable-area': 'variable-area meter',
  'thermal-mass': 'thermal-mass meter',
  volumetric: 'volumetric meter',
  mass: 'mass flow meter',
} as const;

type StatedPressure = NonNullable<NonNullable<Experiment['supply']>['pressure']>;

function pressureWords({ pressure }: StatedPressure): string {
  return 'gaugePressure' in pressure
    ? `${short(pressure.gaugePressure / 1e5)} bar gauge`
    : `${short(pressure.absolutePressure / 1e5)} bar absolute`;
}

/** `60, 120 L/min` for readings that share their unit. */
function oneUnit(readings: readonly string[]): string {
  const split = readings.map((one) => /^([\d.]+)\s*(\S.*)$/.exec(one));
  const unit = split[0]?.[2];
  if (unit === undefined || split.some((one) => one?.[2] !== unit)) return readings.join(', ');
  return `${split.map((one) => one?.[1] ?? '').join(', ')} ${unit}`;
}

function bodiesOf({ bodies }: Experiment, wanted: string | undefined): RigBody[] {
  const alike = new Map<string, { names: string[]; shape: RigBody['shape']; diameter: number | null }>();
  for (const [code, { name, shape, diameter }] of Object.entries(bodies)) {
    if (wanted !== undefined && code !== wanted) continue;
    const key = `${shape === 'wire'} ${diameter?.value ?? ''}`;
    const known = alike.get(key);
    if (known === undefined) {
      alike.set(key, { names: [name ?? code], shape, diameter: diameter?.value ?? null });
    } else known.names.push(name ?? code);
  }
  return [...alike.values()].toSorted((a, b) => (b.diameter ?? 0) - (a.diameter ?? 0));
}

function sensorWords({ sensor }: Experiment): string {
  const { thermocouple, resistance, wires } = sensor;
  const kind = thermocouple === undefined ? (resistance ?? 'sensor') : `type ${thermocouple} junction`;
  const leads = wires.slice(0, 4).map(({ material, diameter }) => {
    return `${material.material.name.split(',')[0] ?? ''} ${lengthWords(diameter.value)}`;
  });
  return leads.length === 0 ? kind : `${kind}; wires: ${leads.join(', ')}`;
}

function signalParts({ sensor, logger }: Experiment): RigPart[] {
  const parts: RigPart[] = [];
  const { thermocouple, resistance, junction, gain, zero } = sensor;
  if (junction === 'ice') {
    parts.push({ kind: 'ice-bath', name: 'ice bath', numbers: ['reference junction, 0 °C'] });
  } else if (junction !== undefined || thermocouple !== undefined) {
    parts.push({ kind: 'reference', name: 'reference junction', numbers: [junctionWords(junction)] });
  }
  if (gain !== undefined || zero !== undefined) {
    const numbers = gain === undefined ? [] : [`gain ${short(gain)}`];
    if (zero !== undefined) numbers.push(`zero ${short(zero.value * 1000)} mV`);
    parts.push({ kind: 'amplifier', name: 'amplifier', numbers });
  }
  const numbers: string[] = [];
  if (logger !== undefined) {
    numbers.push(`${short(logger.rate)} readings a second`);
    const { range, bits, resolution } = logger;
    if (range !== undefined) {
      numbers.push(
        `${bits === undefined ? '' : `${bits} bit, `}${short(range.from)} V to ${short(range.to)} V`,
      );
    }
    if (resolution !== undefined) {
      numbers.push(
        `steps of ${resolution.unit === 'K' ? `${short(resolution.step)} K` : `${short(resolution.step * 1000)} mV`}`,
      );
    }
  }
  if (thermocouple === undefined && resistance === undefined) numbers.push('logs degrees');
  parts.push({ kind: 'logger', name: 'logger', numbers });
  return parts;
}

function junctionWords(junction: string | undefined): string {
  if (junction === undefined) return 'not stated';
  const degrees = /^([+-]?[\d.]+)\s*(?:degC|°C)/.exec(junction);
  return degrees === null ? `recorded as ${junction}` : `${short(Number(degrees[1]))} °C`;
}

function surroundingsOf({ room, supply }: Experiment, moving: boolean): string[] {
  const said: string[] = [];
  if (room !== undefined) {
    said.push(`Room ${short(room.temperature.value)} °C, ${short(room.pressure.value / 1000)} kPa.`);
  }
  if (moving && supply !== undefined) said.push(`Jet ${short(supply.temperature.value)} °C at the body.`);
  return said;
}

/**
 * A length in words, in mm; from 1 m on in m.
 *
 * @param length m
 */
export function lengthWords(length: number): string {
  return length < 1 ? `${short(length * 1000)} mm` : `${short(length)} m`;
}

/** A number to four figures without trailing zeros. */
function short(value: number): string {
  const rounded = Number(value.toPrecision(4));
  const decimals = /\.(\d+)$/.exec(rounded.toFixed(6).replace(/0+$/, ''))?.[1]?.length ?? 0;
  return fixed(rounded, decimals);
}

/** `20 mm: brass-20, aluminium-20`. */
export function bodyWords({ names, shape, diameter }: RigBody): string {
  const listed =
    names.length > 4 ? `${names.slice(0, 3).join(', ')} and ${names.length - 3} more` : names.join(', ');
  const size = diameter === null ? 'diameter not stated' : lengthWords(diameter);
  return `${size}${shape === 'wire' ? ' wire' : ''}: ${listed}`;
}

/** The parts of a rig with their numbers, along the air and then along the signal. */
export function schematicTable(rig: Rig): FigureTable {
  const { air, nozzle, bodies, sensor, signal, heating } = rig;
  const part = ({ name, numbers }: RigPart) => [name, numbers.join('; ')];
  return {
    caption: 'The parts of the rig',
    columns: [
      { name: 'Part', unit: null },
      { name: 'Numbers', unit: null },
    ],
    rows: [
      ...air.map(part),
      ...(nozzle === null
        ? []
        : [
            [
              'nozzle',
              `bore ${lengthWords(nozzle.diameter)}; ${lengthWords(nozzle.standOff)} from its mouth to the middle of the body`,
            ],
          ]),
      ...bodies.map((body) => ['body', bodyWords(body)]),
      ['heating', heating],
      ['sensor', sensor],
      ...signal.map(part),
    ],
  };
}

import type { BenchTrial, SimulatedOutput } from '../../src/practice/bench-types.ts';
import { seededRandom } from '../../src/practice/random.ts';
import type { Rig, Scenario } from './scenario.ts';

/** Volts of a type T junction against an ice point: a converter of 12 bits up to 1.25 V behind an amplifier. */
export const amplifier = { type: 'T', gain: 200, zero: 0.0013 } as const;

/** Temperature at which the heat goes off, °C. */
const peak = 108;
/** Streams hot enough for a body in a minute or two, and for a bead, which takes their temperature, °C. */
const streams = { body: 200, bead: 112 } as const;
/** Below this time constant a body takes the temperature of the stream, s. */
const fast = 3;
/** Convection in the hot stream as a part of that in the jet. */
const heatingShare = 0.8;
/** Time on the plateau of a bead, s. */
const plateau = 10;

/** Number of a recording from which everything random in it comes. */
export function seedOf(base: number, scenario: number, recording: number): number {
  return (Math.imul(base, 1_000_003) + Math.imul(scenario, 10_007) + recording) | 0;
}

/**
 * One recording of a scenario: coefficient, ambient, jet, zero and drift are drawn anew for each.
 *
 * @param scenario what is asked for
 * @param seed of everything random in the trial
 * @param turn which of the scenario's dialects is used
 */
export function drawTrial(scenario: Scenario, seed: number, turn: number): BenchTrial {
  const { rig } = scenario;
  // Another stream than that of the simulator, which starts from the seed itself.
  const random = seededRandom(seed ^ 0x2545f491);
  const coefficient = rig.coefficient * Math.exp(0.05 * random.normal());
  const ambient = 20 + 4 * random.uniform();
  const jetOffset = scenario.offset * random.normal();
  const zeroDrift = scenario.drift * random.normal();
  const heating = heatingOf(rig, coefficient, ambient);
  const timeConstant = lumpedTimeConstant(rig, coefficient);
  const heatOff = scenario.baseline + heating.length;
  return {
    seed,
    body: {
      diameter: rig.diameter,
      density: rig.density,
      specificHeat: rig.specificHeat,
      conductivity: rig.conductivity,
      emissivity: rig.emissivity,
      stems: scenario.stems,
      junctionLag: scenario.junctionLag,
      melting: null,
    },
    air: {
      ambient,
      jetOffset,
      drift: 0,
      surroundings: ambient,
      coefficient,
      coefficientFluctuation:
        scenario.unsteady === null
          ? null
          : {
              relative: scenario.unsteady.standardDeviation,
              correlationTime: scenario.unsteady.correlationTime,
            },
      jetChange: null,
      turbulence: scenario.turbulence,
    },
    heatings: [
      {
        from: scenario.baseline,
        to: heatOff,
        stream: heating.stream,
        coefficient: heatingShare * coefficient,
        rise: 0.3,
        tail: scenario.tail,
        wander: 0.02,
      },
    ],
    length: heatOff + scenario.cooling * timeConstant,
    chain: {
      whiteNoise: scenario.white,
      correlatedNoise: scenario.correlated,
      hum: { amplitude: scenario.hum, frequency: 49.95 },
      offset: 0.2 * random.normal(),
      zeroDrift,
      output: outputOf(scenario),
    },
    logger: {
      rate: scenario.rate,
      statedRate: null,
      dialect: scenario.dialects[turn % scenario.dialects.length] ?? 'plain-tab',
      resaved: false,
      bench: 'bench 1',
      startedAt: '2026-03-09T10:12:31',
    },
  };
}

/** Of the bare body in the jet, without radiation, s. */
function lumpedTimeConstant({ density, specificHeat, diameter }: Rig, coefficient: number): number {
  return (density * specificHeat * diameter) / (6 * coefficient);
}

/** Stream and length of the heating that brings a body to the peak, as a lumped balance has it. */
function heatingOf(rig: Rig, coefficient: number, ambient: number) {
  const timeConstant = lumpedTimeConstant(rig, heatingShare * coefficient);
  if (timeConstant < fast) return { stream: streams.bead, length: plateau };
  const stream = streams.body;
  return { stream, length: timeConstant * Math.log((stream - ambient) / (stream - peak)) };
}

function outputOf({ logged, step }: Scenario): SimulatedOutput {
  if (logged === 'degrees') return { kind: 'degrees', unit: 'degC', step, range: null, mistaken: null };
  return {
    kind: 'volts',
    unit: 'V',
    type: amplifier.type,
    reference: 0,
    compensated: false,
    gain: amplifier.gain,
    zero: amplifier.zero,
    range: { from: 0, to: 1.25 },
    bits: 12,
  };
}

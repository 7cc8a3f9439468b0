import { expect } from 'vitest';
import type {
  BenchTrial,
  Heating,
  SimulatedAir,
  SimulatedBody,
  SimulatedStem,
} from '../../src/practice/bench-types.ts';
import { simulateBody } from '../../src/practice/body.ts';
import type { Random } from '../../src/practice/random.ts';

/** Changes to the plain trial. */
export interface TrialChanges {
  readonly body?: Partial<SimulatedBody>;
  readonly air?: Partial<SimulatedAir>;
  readonly heating?: Partial<Heating>;
  readonly heatings?: readonly Heating[];
  readonly length?: number;
  readonly rate?: number;
}

/** A copper-like wire that leaves a sphere. */
export const wire: SimulatedStem = {
  diameter: 0.5e-3,
  length: 0.05,
  density: 8900,
  specificHeat: 390,
  conductivity: 60,
  coefficient: 400,
};

/** A step of hot air on a brass-like sphere of 12 mm without stems, radiation, lag and chance: about 60 s. */
export function plainBenchTrial(changes: TrialChanges = {}): BenchTrial {
  const heating: Heating = {
    from: 10,
    to: 60,
    stream: 120,
    coefficient: 200,
    rise: 0,
    tail: 0,
    wander: 0,
    ...changes.heating,
  };
  return {
    seed: 1,
    body: {
      diameter: 12e-3,
      density: 8500,
      specificHeat: 380,
      conductivity: 120,
      emissivity: 0,
      stems: [],
      junctionLag: 0,
      melting: null,
      ...changes.body,
    },
    air: {
      ambient: 20,
      jetOffset: 0,
      drift: 0,
      surroundings: 20,
      coefficient: 150,
      coefficientFluctuation: null,
      jetChange: null,
      turbulence: null,
      ...changes.air,
    },
    heatings: changes.heatings ?? [heating],
    length: changes.length ?? 200,
    chain: {
      whiteNoise: 0,
      correlatedNoise: [],
      hum: { amplitude: 0, frequency: 50 },
      offset: 0,
      zeroDrift: 0,
      output: { kind: 'degrees', unit: 'degC', step: 0, range: null, mistaken: null },
    },
    logger: {
      rate: changes.rate ?? 10,
      statedRate: null,
      dialect: 'plain-tab',
      resaved: false,
      bench: 'bench A',
      startedAt: '2026-01-12T09:00:00',
    },
  };
}

/** For trials without chance. */
export const none: Random = {
  uniform: () => {
    throw new Error('a trial without chance drew a number');
  },
  normal: () => {
    throw new Error('a trial without chance drew a number');
  },
};

/** The plain trial with changes, simulated. */
export const simulate = (changes: TrialChanges, random: Random = none) =>
  simulateBody(plainBenchTrial(changes), random);

/** So well conducting that it has one temperature: Bi = h r/k about 1e-6. */
export const oneTemperature = { conductivity: 1e6 };

/** The largest difference of two series that have to be of one length. */
export function largestDifference(a: Float64Array, b: ArrayLike<number>): number {
  expect(a.length).toBe(b.length);
  return a.reduce((largest, value, i) => Math.max(largest, Math.abs(value - (b[i] ?? Number.NaN))), 0);
}

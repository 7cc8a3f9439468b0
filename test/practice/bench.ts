import type { BenchTrial } from '../../src/practice/bench-types.ts';

/** A brass sphere at an invented bench, quiet and in degrees: what tests start from. */
export const benchTrial: BenchTrial = {
  seed: 20_260_309,
  body: {
    diameter: 0.0127,
    density: 8530,
    specificHeat: 380,
    conductivity: 115,
    emissivity: 0.1,
    stems: [],
    junctionLag: 0.1,
    melting: null,
  },
  air: {
    ambient: 21.4,
    jetOffset: -0.3,
    drift: 0,
    surroundings: 21.4,
    coefficient: 160,
    coefficientFluctuation: null,
    jetChange: null,
    turbulence: null,
  },
  heatings: [{ from: 15, to: 45, stream: 160, coefficient: 60, rise: 0.4, tail: 0.4, wander: 0.02 }],
  length: 120,
  chain: {
    whiteNoise: 0.02,
    correlatedNoise: [{ standardDeviation: 0.02, correlationTime: 0.5 }],
    hum: { amplitude: 0.03, frequency: 50 },
    offset: 0.1,
    zeroDrift: 0,
    output: { kind: 'degrees', unit: 'degC', step: 0.01, range: null, mistaken: null },
  },
  logger: {
    rate: 20,
    statedRate: null,
    dialect: 'plain-tab',
    resaved: false,
    bench: 'Thornwick, bench 2',
    startedAt: '2026-03-09T10:12:31',
  },
};

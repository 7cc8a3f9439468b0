/** A simulated recording of a brass sphere, from its text to its analysis: what the other examples start from. */
import {
  analyzeDecay,
  type BenchTrial,
  createReader,
  type Decay,
  recordingBytes,
  simulateRecording,
  toTrace,
} from 'emberline';

/** A sphere of 12 mm that cools in a jet, at a bench that logs degrees. Times in s, temperatures in °C, noise in K. */
export const brassSphere: BenchTrial = {
  seed: 1,
  body: {
    diameter: 0.012,
    density: 8530,
    specificHeat: 380,
    conductivity: 115,
    emissivity: 0.2,
    stems: [],
    junctionLag: 0,
    melting: null,
  },
  air: {
    ambient: 21,
    jetOffset: 0,
    drift: 0,
    surroundings: 21,
    coefficient: 160,
    coefficientFluctuation: null,
    jetChange: null,
    turbulence: null,
  },
  heatings: [{ from: 20, to: 70, stream: 180, coefficient: 60, rise: 0.5, tail: 0, wander: 0 }],
  length: 230,
  chain: {
    whiteNoise: 0.1,
    correlatedNoise: [{ standardDeviation: 0.1, correlationTime: 0.5 }],
    hum: { amplitude: 0, frequency: 50 },
    offset: 0,
    zeroDrift: 0,
    output: { kind: 'degrees', unit: 'degC', step: 0.01, range: null, mistaken: null },
  },
  logger: {
    rate: 100,
    statedRate: null,
    dialect: 'plain-tab',
    resaved: false,
    bench: 'Thornwick, bench 2',
    startedAt: '2026-03-02T14:20:00',
  },
};

/** A bead of the same brass, ten times as quick: its recording is short. */
export const quickBead: BenchTrial = {
  ...brassSphere,
  body: { ...brassSphere.body, diameter: 0.0012 },
  heatings: brassSphere.heatings.map((heating) => ({ ...heating, to: 40 })),
  length: 70,
};

/** What was true of a trial, and what its recording shows. */
export interface SimulatedResult {
  /** s. */
  readonly truth: number;
  readonly decay: Decay;
}

/** Simulates a trial, writes its recording as the logger would, and reads and analyzes that text. */
export function analyzeSimulated(trial: BenchTrial): SimulatedResult {
  const readings = simulateRecording(trial);
  const reader = createReader();
  for (const bytes of recordingBytes(readings)) reader.push(bytes);
  const trace = toTrace(reader.finish(), { kind: 'degrees' });
  return { truth: readings.truth.timeConstant ?? Number.NaN, decay: analyzeDecay(trace) };
}

import { type Condition, conditionName, type Experiment, entryOf } from '../experiment/index.ts';
import type { PredictionInput } from '../prediction/index.ts';
import type { BenchTrial, Heating, SimulatedStem } from './bench-types.ts';
import { type Draws, drawsFor, noiseSeed, roundedDraw } from './labelled-draws.ts';
import { type Bench, benchChain } from './set-bench.ts';
import {
  type Coefficients,
  coefficientsAbout,
  layoutTimeConstant,
  nominalSpecimen,
  type Specimen,
  statedUncertainties,
  stillCoefficients,
  weakestMovingFlow,
} from './set-physics.ts';
import { PracticeError, type PracticeGroup, type TrialInputs } from './set-types.ts';

/** What a trial is drawn from. */
export interface TrialBasis {
  readonly experiment: Experiment;
  readonly seed: string;
  readonly condition: Condition;
  /** What the file says of the condition. */
  readonly input: PredictionInput;
  readonly group: PracticeGroup;
  readonly bench: Bench;
  readonly repeat: number;
  /** The rig's truth over the correlation. */
  readonly nusseltMultiplier: number;
  /** Of the session's room less that of the file, K. */
  readonly roomOffset: number;
  /** Hz; null for a rate that suits the time constant. */
  readonly rate: number | null;
}

/** A trial that went well, and what faults need to know of it. */
export interface TrialDraft {
  readonly trial: BenchTrial;
  readonly inputs: TrialInputs;
  readonly facts: TrialFacts;
}

/** How a trial was laid out. Temperatures in °C, times in s. */
interface TrialFacts {
  readonly timeConstant: number;
  readonly heatingTimeConstant: number;
  readonly ambient: number;
  readonly aim: number;
  /** Temperature that the body may not pass; null for none. */
  readonly limit: number | null;
  /** Shortest baseline and error fraction at the end, by the protocol. */
  readonly shortestBaseline: number;
  readonly endFraction: number;
  /** Coefficients with the jet off over those with the jet on; null where the air is still anyway. */
  readonly stillShare: number | null;
}

/** Standard deviations of the heat transfer from group to group and trial to trial (common practice, no source). */
const groupSpread = 0.02;
const trialSpread = 0.01;

/** Draws one trial that goes well. Everything comes from the seed and from what the trial is of. */
export function drawTrial(basis: TrialBasis): TrialDraft {
  const { experiment, seed, condition, group, bench, repeat } = basis;
  const draws = drawsFor(seed, 'trial', group.code, condition.body, condition.flow, repeat);
  const wire = basis.input.body.shape === 'wire';
  const input = wire ? { ...basis.input, body: { ...basis.input.body, wires: [] } } : basis.input;
  const specimen = drawSpecimen(basis);
  const ambient = roundedDraw(ambientOf(input) + basis.roomOffset + draws.normal(0, 0.15));
  const own = coefficientsAbout(condition, input, specimen, ambient);
  const setUp = drawsFor(seed, 'group', group.code).normal(1, groupSpread);
  const nusseltMultiplier = roundedDraw(
    basis.nusseltMultiplier * bench.multiplier * setUp * draws.normal(1, trialSpread),
  );
  const convection = roundedDraw(own.convection * nusseltMultiplier);
  const solid = simulatedSphere(specimen, wire);
  const stem = own.stem * Math.sqrt(nusseltMultiplier);
  const timeConstant = layoutTimeConstant(solid, convection + own.radiation + stem);
  const still = own.speed === 0 ? null : stillCoefficients(condition, input, specimen, ambient);
  const heat = drawHeat({ ...basis, input }, draws, { specimen, solid, ambient, own, nusseltMultiplier });
  const rate = basis.rate ?? usualRate(timeConstant);
  const baseline = roundedDraw(Math.max(4, experiment.protocol.baseline * draws.between(1.2, 1.7)));
  const end = experiment.protocol['end-fraction'] * draws.between(0.55, 0.85);
  const heatings = [{ ...heat.heating, from: baseline, to: roundedDraw(baseline + heat.seconds) }];
  const cooling = timeConstant * Math.log(1 / end);
  const jetOffset = drawJetOffset(experiment, own, draws);
  const trial: BenchTrial = {
    seed: noiseSeed(seed, group.code, condition.body, condition.flow, repeat),
    body: {
      diameter: solid.diameter,
      density: solid.density,
      specificHeat: solid.specificHeat,
      conductivity: solid.conductivity,
      emissivity: solid.emissivity,
      stems: stemsOf(input, own, nusseltMultiplier),
      // Adhesive about a junction in a hole; the bead of a bare junction is its own junction.
      junctionLag: isBare(experiment, condition)
        ? 0
        : roundedDraw(Math.min(draws.between(0.1, 0.4), timeConstant / 40)),
      melting: null,
    },
    air: {
      ambient,
      jetOffset,
      drift: draws.normal(0, 0.3 * experiment.protocol.drift),
      surroundings: roundedDraw(ambient + draws.normal(0, 0.3)),
      coefficient: convection,
      coefficientFluctuation:
        own.speed === 0 ? null : { relative: draws.between(0.001, 0.003), correlationTime: 0.3 },
      jetChange: null,
      turbulence: turbulenceOf(bench, own.speed, timeConstant, draws),
    },
    heatings,
    length: roundedDraw((heatings[0]?.to ?? 0) + cooling),
    chain: benchChain(experiment, bench, rate, draws),
    logger: {
      rate,
      statedRate: null,
      dialect: bench.dialect,
      resaved: false,
      bench: bench.code,
      startedAt: '',
    },
  };
  return {
    trial,
    inputs: {
      diameter: specimen.diameter,
      density: specimen.density,
      specificHeat: specimen.specificHeat,
      conductivity: specimen.conductivity,
      emissivity: specimen.emissivity,
      nusseltMultiplier,
      speed: roundedDraw(own.speed),
      reynolds: roundedDraw(own.reynolds),
      convection,
      ambient,
      jetOffset,
      expectedTimeConstant: roundedDraw(timeConstant),
      aim: heat.aim,
    },
    facts: {
      timeConstant,
      heatingTimeConstant: heat.timeConstant,
      ambient,
      aim: heat.aim,
      limit: heat.limit,
      shortestBaseline: experiment.protocol.baseline,
      endFraction: experiment.protocol['end-fraction'],
      stillShare: still === null ? null : still.convection / convection,
    },
  };
}

/** A group keeps its bodies: they are drawn for group and body. */
function drawSpecimen({ experiment, seed, condition, input, group }: TrialBasis): Specimen {
  const draws = drawsFor(seed, 'body', group.code, condition.body);
  const nominal = nominalSpecimen(input);
  const stated = statedUncertainties(experiment, condition);
  const diameter = draws.normal(nominal.diameter, Math.min(stated.diameter ?? 2e-5, 0.05 * nominal.diameter));
  const weighed = input.body.mass !== null;
  const weight = draws.normal(1, weighed ? (stated.mass ?? 0) / (input.body.mass ?? 1) : 0);
  const relative = (given: number | undefined, value: number, usual: number) =>
    Math.min(0.1, given === undefined ? usual : given / value);
  // A mass that was weighed belongs to the true volume.
  const volumes = (nominal.diameter / diameter) ** 3;
  const density = weighed
    ? nominal.density * weight * volumes
    : draws.normal(nominal.density, nominal.density * relative(stated.density, nominal.density, 0.01));
  const { specificHeat: c, conductivity: k, emissivity: e } = nominal;
  return {
    diameter,
    density: roundedDraw(density),
    specificHeat: draws.normal(c, c * relative(stated.specificHeat, c, 0.02)),
    conductivity: draws.normal(k, k * relative(stated.conductivity, k, 0.05)),
    emissivity: roundedDraw(Math.min(0.98, Math.max(0.01, draws.normal(e, 0.25 * e)))),
  };
}

/**
 * A wire is simulated as a sphere of one and a half times its diameter: the volume over its area is the same, and with
 * the coefficient of the wire it cools alike, for a wire has one temperature over its thickness.
 */
function simulatedSphere(specimen: Specimen, wire: boolean): Specimen {
  return wire ? { ...specimen, diameter: roundedDraw(1.5 * specimen.diameter) } : specimen;
}

function ambientOf({ flow, room }: PredictionInput): number {
  return (flow.kind === 'still' ? room.temperature : flow.temperature) - 273.15;
}

function isBare({ bodies }: Experiment, { body }: Condition): boolean {
  return entryOf(bodies, body)?.shape !== 'sphere';
}

/** Expanded supply air is a little colder than what the body stood in before; the protocol says how much at most. */
function drawJetOffset(experiment: Experiment, { speed }: Coefficients, draws: Draws): number {
  const usual = experiment.protocol['ambient-offset'];
  return speed === 0 ? draws.normal(0, 0.1 * usual) : draws.normal(-0.4 * usual, 0.6 * usual);
}

/**
 * A faster jet mixes more of the room into itself, in eddies of a decimetre or two that pass more quickly (common
 * practice, no source). Eddies that are a thousand times quicker than the body are as good as quicker ones.
 */
function turbulenceOf(bench: Bench, speed: number, timeConstant: number, draws: Draws) {
  const passing = draws.between(0.1, 0.3) / Math.max(speed, 0.05);
  return {
    standardDeviation: roundedDraw(bench.turbulence * (0.1 + 0.25 * Math.sqrt(speed / 5))),
    correlationTime: roundedDraw(Math.max(passing, 0.03, timeConstant / 1000)),
  };
}

/** Long wires are as long as the fin is felt: five of its lengths. */
const finLengths = 5;

function stemsOf(input: PredictionInput, own: Coefficients, multiplier: number): SimulatedStem[] {
  return input.body.wires.map(({ diameter, material, length }, i) => {
    const point = material.points[0];
    const conductivity = point?.conductivity ?? 0;
    const coefficient = roundedDraw((own.wires[i] ?? 0) * multiplier);
    const felt = Math.sqrt((conductivity * diameter) / (4 * Math.max(coefficient, 1)));
    return {
      diameter,
      length: length ?? roundedDraw(finLengths * felt),
      density: material.density,
      specificHeat: point?.specificHeat ?? 0,
      conductivity,
      coefficient,
    };
  });
}

interface HeatBasis {
  readonly specimen: Specimen;
  readonly solid: Specimen;
  readonly ambient: number;
  readonly own: Coefficients;
  readonly nusseltMultiplier: number;
}

interface Heat {
  readonly heating: Omit<Heating, 'from' | 'to'>;
  /** How long, s. */
  readonly seconds: number;
  readonly timeConstant: number;
  readonly aim: number;
  readonly limit: number | null;
}

/** The hot stream, and how long the body stands in it to come a little over the target. */
function drawHeat(basis: TrialBasis, draws: Draws, known: HeatBasis): Heat {
  const { experiment, condition } = basis;
  const { ambient, solid, own } = known;
  const entry = entryOf(experiment.bodies, condition.body);
  const limits = [experiment.protocol.limit, entry?.limit].filter((one) => one !== undefined);
  const limit = limits.length > 0 ? Math.min(...limits) : null;
  const target = basis.input.cooling.start - 273.15;
  const step = target - ambient;
  if (!(step > 5)) {
    throw new PracticeError(
      `${conditionName(condition)} cannot be simulated: a target of ${target.toFixed(1)} degC is hardly above the air. Write a higher target.`,
    );
  }
  const excess = experiment.heating.stream === undefined ? 1.9 * step : experiment.heating.stream - ambient;
  const stream = roundedDraw(ambient + draws.normal(excess, 0.03 * excess));
  // Clear of the limit by what a hand on a heat gun needs.
  const highest = Math.min(
    ambient + 0.92 * (stream - ambient),
    limit === null ? Number.POSITIVE_INFINITY : limit - Math.max(5, 0.06 * (limit - ambient)),
  );
  const aim = roundedDraw(Math.min(target + step * draws.between(0.05, 0.14), highest));
  if (!(aim > ambient + 5)) {
    throw new PracticeError(
      `${conditionName(condition)} cannot be simulated: limit or hot air leave no room for a heating. Write a higher limit or a hotter stream.`,
    );
  }
  const coefficient = roundedDraw(hotCoefficient(basis, known, target, stream, draws));
  const ratio = coefficient / Math.max(own.convection * known.nusseltMultiplier, 1e-9);
  const stem = own.stem * Math.sqrt(known.nusseltMultiplier * ratio);
  const timeConstant = layoutTimeConstant(solid, coefficient + own.radiation + stem);
  const rise = draws.between(0.2, 0.6);
  const tail = roundedDraw(Math.min(draws.between(0.1, 0.35), timeConstant / 12));
  const plain = timeConstant * Math.log((stream - ambient) / (stream - aim));
  return {
    heating: { stream, coefficient, rise, tail, wander: draws.between(0.01, 0.03) },
    // What the stream lacks while it builds up, and what it still brings while it dies away.
    seconds: Math.max(0.3, plain + rise - tail),
    timeConstant,
    aim,
    limit,
  };
}

/** A stream whose strength nobody knows heats about as strongly as the weakest jet cools; still air, eight times so. */
function hotCoefficient(
  basis: TrialBasis,
  { specimen, solid, ambient, own }: HeatBasis,
  target: number,
  stream: number,
  draws: Draws,
): number {
  const { experiment, condition } = basis;
  const seen = entryOf(experiment.bodies, condition.body)?.heating;
  const spread = draws.between(0.9, 1.15);
  const rise = Math.log((stream - ambient) / Math.max(stream - target, 0.05 * (stream - ambient)));
  const tau = seen?.['time-constant'] ?? (seen?.time === undefined ? undefined : seen.time / rise);
  if (tau !== undefined && tau > 0) {
    const total = (solid.density * solid.specificHeat * solid.diameter) / (6 * tau);
    return Math.max(0.3 * total, total - own.radiation - own.stem) * spread;
  }
  const weakest = weakestMovingFlow(experiment, condition, specimen, ambient);
  return (weakest ?? 8 * own.convection) * spread;
}

/** A round rate with at least fifty readings a time constant. */
function usualRate(timeConstant: number): number {
  const rates = [10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
  return rates.find((rate) => rate * timeConstant >= 50) ?? 10_000;
}

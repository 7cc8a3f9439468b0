import { type Experiment, entryOf } from '../experiment/index.ts';
import { type RigKind, rigKind } from './kinds.ts';
import type { RigCheckKind, RigStanding } from './types.ts';
import { roomPressure } from './value.ts';
import { zeroTolerance } from './zero-limit.ts';

/** What a check should show and how far it may be off, SI. */
export interface Expectation {
  readonly expected: number;
  readonly tolerance: number;
  readonly source: RigStanding['source'];
}

/** A value with its standard uncertainty, both SI. */
interface Stated {
  readonly value: number;
  readonly standardUncertainty: number | null;
}

/** A check may be off by so many standard uncertainties of what is stated: about 95 %. Common practice, no source. */
const factor = 2;
/** Ice baths of a class are no better than this, K: common practice, no source. */
const iceBath = 0.2;

/**
 * What the experiment file says that a check should show.
 *
 * @param subject code of the body or of the flow
 * @returns null where it says nothing
 */
export function statedExpectation(
  experiment: Experiment,
  kind: RigCheckKind,
  subject: string | null,
): Expectation | null {
  const about = rigKind(kind);
  const { sensor, supply } = experiment;
  switch (kind) {
    case 'zero':
      return statedZero(experiment);
    case 'gain': {
      if (sensor.gain === undefined) return null;
      const part = sensor['gain-uncertainty'];
      const standardUncertainty = part === undefined ? null : part * sensor.gain;
      return within({ value: sensor.gain, standardUncertainty }, about);
    }
    case 'ice-point': {
      const junction = sensor['junction-uncertainty'];
      return junction === undefined
        ? within({ value: 0, standardUncertainty: null }, about)
        : { expected: 0, tolerance: Math.max(iceBath, factor * junction), source: 'experiment-file' };
    }
    case 'jet-temperature':
      return supply === undefined ? null : within(supply.temperature, about);
    case 'supply-pressure':
      return statedSupply(experiment, about);
    case 'flow':
      return statedFlow(experiment, subject ?? '', about);
    case 'diameter':
    case 'mass': {
      const stated = entryOf(experiment.bodies, subject ?? '')?.[kind];
      return stated === undefined ? null : within(stated, about);
    }
  }
}

function statedZero(experiment: Experiment): Expectation | null {
  const { zero } = experiment.sensor;
  const bearable = zeroTolerance(experiment);
  if (zero === undefined || bearable === null) return null;
  const own = factor * (zero.standardUncertainty ?? 0);
  return { expected: zero.value, tolerance: Math.max(bearable, own), source: 'experiment-file' };
}

function statedSupply(experiment: Experiment, about: RigKind): Expectation | null {
  const stated = experiment.supply?.pressure;
  if (stated === undefined) return null;
  const { pressure, standardUncertainty } = stated;
  const value =
    'gaugePressure' in pressure
      ? pressure.gaugePressure + roomPressure(experiment)
      : pressure.absolutePressure;
  return within({ value, standardUncertainty }, about);
}

function statedFlow(experiment: Experiment, flow: string, about: RigKind): Expectation | null {
  const setting = entryOf(experiment.flows, flow);
  if (setting === undefined || setting.kind === 'still') return null;
  if (setting.kind === 'speed') return within(setting.speed, about);
  const { meter } = experiment;
  const accuracy = meter?.accuracy;
  const scale = meter?.['full-scale'];
  const full = scale?.counts === setting.counts ? scale.reading.value : 0;
  const limits =
    (accuracy?.['of-reading'] ?? 0) * setting.reading.value + (accuracy?.['of-full-scale'] ?? 0) * full;
  const { standardUncertainty } = setting.reading;
  if (standardUncertainty === null && limits === 0) return within(setting.reading, about);
  const tolerance = Math.max(limits, factor * (standardUncertainty ?? 0));
  return { expected: setting.reading.value, tolerance, source: 'experiment-file' };
}

/** Limits from the uncertainty that is stated with a value, or the usual ones. */
function within({ value, standardUncertainty }: Stated, about: RigKind): Expectation {
  if (standardUncertainty !== null && standardUncertainty > 0) {
    return { expected: value, tolerance: factor * standardUncertainty, source: 'experiment-file' };
  }
  return { expected: value, tolerance: usualTolerance(about, value) ?? 0, source: 'common-practice' };
}

/** How far a check of this kind may be off where nothing is stated, SI; null where there is no usual measure. */
function usualTolerance({ usual }: RigKind, value: number): number | null {
  if (usual === null) return null;
  return 'part' in usual ? usual.part * Math.abs(value) : usual.within;
}

/**
 * What earlier checks of the same say that a check should show: their median.
 *
 * @param earlier values in SI
 * @returns null where there are none, or no measure of how far it may be off
 */
export function earlierExpectation(
  experiment: Experiment,
  kind: RigCheckKind,
  earlier: readonly number[],
): Expectation | null {
  const sorted = [...earlier].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  const expected = ((sorted[Math.ceil(middle) - 1] ?? Number.NaN) + (sorted[Math.floor(middle)] ?? 0)) / 2;
  const tolerance = kind === 'zero' ? zeroTolerance(experiment) : usualTolerance(rigKind(kind), expected);
  if (sorted.length === 0 || tolerance === null) return null;
  return { expected, tolerance, source: 'earlier-checks' };
}

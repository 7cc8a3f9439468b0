import type { MeasuredFacts, StudentRecording } from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { type Blocks, type ChannelUnit, coarsenBlocks, type Recording } from '../recording/index.ts';
import { thermocoupleReference, thermocoupleTypes } from '../sensing/index.ts';
import type { AnalyzedFile } from './analyze-file.ts';
import type { SensorSettings } from './sensor.ts';

/** Blocks of a whole recording, at most about so many: enough for a hundred within a time constant. */
const mostBlocks = 4000;
/** Blocks within a time constant, at least where the recording has them. */
const leastPerTimeConstant = 100;

/**
 * A recording as a class works with it, for those who look for how values were come to.
 *
 * @param analyzed with the marks that count
 * @param moving whether the body cools in a jet whose temperature the experiment file may give
 * @returns null where the recording has no start and no ambient to work from
 */
export function measuredFacts(
  analyzed: AnalyzedFile,
  sensor: SensorSettings,
  experiment: Experiment,
  moving: boolean,
): MeasuredFacts | null {
  const { recording, trace, decay } = analyzed;
  const { taught, segments } = decay;
  if (taught === null) return null;
  const factor = coarsening(trace.blocks, decay.timeConstant?.value ?? null);
  const blocks = factor > 1 ? coarsenBlocks(trace.blocks, factor) : trace.blocks;
  const shown = voltsOf(recording, blocks, factor);
  const { window } = experiment.protocol;
  const standard = (method: string) =>
    decay.estimates.find((one) => one.method === method)?.standardUncertainty;
  const single = blocks.width < 1.5 * trace.samplePeriod;
  const student: StudentRecording = {
    time: blocks.time,
    temperature: blocks.mean,
    volts: shown,
    byType: shown === null ? null : otherTypes(recording, sensor),
    readings: single ? null : { count: blocks.count, squares: blocks.squares, lowest: blocks.min },
    rate: recording.rate,
    ambient: taught.ambient,
    jet: moving ? (experiment.supply?.temperature.value ?? null) : null,
    room: experiment.room?.temperature.value ?? null,
    start: taught.start,
    highest: trace.blocks.max.reduce((highest, one) => Math.max(highest, one), Number.NEGATIVE_INFINITY),
    heatingFrom: segments.heating?.from ?? null,
    heatOff: segments.heatOff ?? taught.start.time,
    window: [window.from, window.to],
  };
  return {
    recording: student,
    standardUncertainties: known({
      point: standard('point-36.8'),
      origin: standard('log-linear-origin'),
      intercept: standard('log-linear-intercept'),
    }),
  };
}

/** How many blocks make one, so that there are few and they stay short against the time constant. */
function coarsening({ length, width }: Blocks, timeConstant: number | null): number {
  const few = Math.ceil(length / mostBlocks);
  if (timeConstant === null) return few;
  return Math.max(1, Math.min(few, Math.floor(timeConstant / leastPerTimeConstant / width)));
}

const perVolt: Readonly<Partial<Record<ChannelUnit, number>>> = { V: 1, mV: 1e-3, uV: 1e-6 };

/** What the logger showed, V, block by block of the trace; null where it shows no voltage. */
function voltsOf(recording: Recording, trace: Blocks, factor: number): Float64Array | null {
  const { unit } = recording.channel;
  const scale = unit === null ? undefined : perVolt[unit];
  if (scale === undefined) return null;
  const blocks = factor > 1 ? coarsenBlocks(recording.blocks, factor) : recording.blocks;
  const byCell = new Map<number, number>();
  blocks.cell.forEach((cell, i) => void byCell.set(cell, i));
  // Readings beyond the range of the sensor have no temperature: the trace leaves their blocks out.
  return Float64Array.from(trace.cell, (cell) => {
    return scale * (blocks.mean[byCell.get(cell) ?? -1] ?? Number.NaN);
  });
}

/** Degrees by the table of another type; null where the reference junction is not at one temperature. */
function otherTypes(
  recording: Recording,
  { gain, zero, junction }: SensorSettings,
): StudentRecording['byType'] {
  const temperature = junctionTemperature(recording, junction);
  if (temperature === null) return null;
  return (type, volts) => {
    const letter = thermocoupleTypes.find((one) => one === type);
    if (letter === undefined) return Number.NaN;
    const reference = thermocoupleReference(letter);
    return reference.temperature((volts - zero) / gain + reference.emf(temperature));
  };
}

/** °C; a recorded one by its mean. */
function junctionTemperature(recording: Recording, junction: SensorSettings['junction']): number | null {
  if (junction === null) return null;
  if (junction.kind === 'ice') return 0;
  if (junction.kind === 'fixed') return junction.temperature;
  const companion = recording.companions[0];
  if (companion?.channel.unit !== 'degC' || companion.blocks.length === 0) return null;
  return companion.blocks.mean.reduce((sum, one) => sum + one, 0) / companion.blocks.length;
}

function known<K extends string>(
  values: Readonly<Record<K, number | undefined>>,
): Readonly<Partial<Record<K, number>>> {
  const found: Partial<Record<K, number>> = {};
  for (const key in values) {
    const value = values[key];
    if (value !== undefined) found[key] = value;
  }
  return found;
}

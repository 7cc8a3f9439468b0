import type { Blocks } from '../recording/index.ts';
import type { Span } from '../remark/index.ts';
import type { GateInput } from './gate-input.ts';
import { baselineGates } from './gates-baseline.ts';
import { coolingGates } from './gates-cooling.ts';
import { heatingGates } from './gates-heating.ts';
import { readingGates } from './gates-readings.ts';
import { valueGates } from './gates-value.ts';
import { zeroGates } from './gates-zero.ts';
import type { Gate } from './types.ts';

/** Step of a course whose protocol states no target, K: a usual heating. */
const usualStep = 70;
/** Fewer missing readings in a row than this are dropped samples, not a gap. */
const fewestMissing = 3;

/**
 * Every gate of a trial, in the order of the trial. A gate for which there is nothing to hold the trial against is left
 * out: a limit that no protocol states, a last trial that was not made.
 */
export function gatesOf(input: GateInput): Gate[] {
  const { phase, trace, settings, context, cooling, noise } = input;
  const step = stepOf(input);
  const timeConstant = input.timeConstant?.value ?? context.planned?.value ?? null;
  const readings = readingGates({
    phase,
    samplePeriod: trace.samplePeriod,
    plannedRate: context.plannedRate,
    arrivalRate: context.arrivalRate,
    remarks: trace.remarks,
    noise,
    gaps: gapsOf(trace.blocks, trace.samplePeriod),
    cooling,
    timeConstant,
    step,
  });
  const coolings = coolingGates({
    phase,
    time: input.time,
    cleanFrom: cooling?.from ?? null,
    timeConstant,
    errorFraction: input.errorFraction,
    endFraction: settings.endFraction,
    hasBaseline: input.baseline !== null,
    forecast: input.forecast,
    adequacy: input.adequacy,
  });
  return [
    ...readings,
    ...baselineGates({
      phase,
      reading: input.baseline,
      recorded: input.recordedBefore,
      shortest: settings.shortestBaseline,
      step,
      lastAmbient: context.lastAmbient,
    }),
    ...zeroGates({
      zeroShift: context.zeroShift,
      remarks: input.remarks,
      step,
      endFraction: settings.endFraction,
    }),
    ...heatingGates({
      phase,
      temperature: input.temperature,
      slope: input.slope,
      peak: input.peak?.temperature ?? null,
      target: settings.target,
      limit: settings.limit,
      step,
    }),
    ...coolings,
    ...valueGates({
      timeConstant: input.timeConstant,
      doubtful: [...readings, ...coolings].some(makesDoubtful),
      predicted: context.predicted,
      body: context.body,
      flow: context.flow,
      bodies: context.bodies,
    }),
  ];
}

/** Whether a time constant of such a trial means nothing, or is wrong by a factor. */
function makesDoubtful({ code, state, spoils }: Gate): boolean {
  return state === 'missed' && (spoils || code === 'rate-planned');
}

/** Excess that the heating made, or is to make, K. */
function stepOf({ phase, peak, baseline, ambient, settings }: GateInput): number {
  const level = ambient ?? baseline?.mean ?? null;
  const heated = phase === 'cooling' || phase === 'done';
  const top = heated && peak !== null ? peak.temperature : (settings.target ?? settings.limit);
  if (level === null || top === null || !(top > level)) return usualStep;
  return top - level;
}

/** Stretches without readings: more of them in a row than a logger drops by chance. */
function gapsOf(blocks: Blocks, samplePeriod: number): Span[] {
  const gaps: Span[] = [];
  const half = (n: number) => ((n - 1) / 2) * samplePeriod;
  const least = Math.max(fewestMissing * samplePeriod, blocks.width);
  for (let i = 1; i < blocks.length; i++) {
    const from = (blocks.time[i - 1] ?? 0) + half(blocks.count[i - 1] ?? 1);
    const to = (blocks.time[i] ?? 0) - half(blocks.count[i] ?? 1);
    if (to - from - samplePeriod > least) gaps.push({ from, to });
  }
  return gaps;
}

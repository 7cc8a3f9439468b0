import type { Remark, Severity } from '../remark/index.ts';
import type { ProtocolLimits } from './segment-limits.ts';
import type { Pattern, Segmentation } from './segment-types.ts';
import { figures } from './segment-words.ts';

/** Why no cooling was found, by what the recording looks like. */
const missing: Record<Exclude<Pattern, 'cut' | 'heating-absent'>, { message: string; action: string }> = {
  none: {
    message: 'No heating and cooling stands out of the recording.',
    action: 'Look whether the right channel and unit were taken; else repeat the trial.',
  },
  'rises-only': {
    message: 'The temperature rises and the recording ends before it falls.',
    action: 'Repeat the trial and keep recording through the cooling.',
  },
  dips: {
    message: 'The temperature falls from its first level and comes back to it.',
    action: 'Check the polarity of the leads; a cold body that warms up is not analyzed.',
  },
  cooling: {
    message: 'A heating was found, but no stretch of clean cooling after it.',
    action: 'Repeat the trial and keep recording after the heat is off.',
  },
  'starts-hot': {
    message: 'The recording starts hot and holds no stretch of clean cooling.',
    action: 'Repeat the trial from the baseline on.',
  },
  warming: {
    message: 'The temperature rises, but no stretch of clean warming was found.',
    action: 'Repeat the trial with a heating and record the cooling after it.',
  },
};

/**
 * What the segments of a recording say about it: `heating-missing`, `heated-again`, `starts-hot`, `peak-low`,
 * `peak-over-limit`, `cooling-short`, `temperature-implausible`.
 */
export function segmentRemarks(found: Segmentation, limits: ProtocolLimits): Remark[] {
  const { segments } = found;
  if (segments.cooling === null) return [noCooling(found)];
  return [
    ...heatedAgain(found),
    ...interrupted(found),
    ...startsHot(found),
    ...peakRemarks(found, limits),
    ...coolingShort(found, limits),
    ...implausible(found, limits),
  ];
}

function noCooling({ pattern, broken, segments }: Segmentation): Remark {
  if (pattern === 'cut' && broken !== null) {
    return {
      code: 'cooling-short',
      severity: 'repeat',
      message: `The recording ends ${figures(broken.to - broken.from, 2)} s after the temperature began to fall, at ${figures(broken.last)} °C after a peak of ${figures(broken.top)} °C: too little of the cooling to analyze.`,
      action: 'Repeat the trial and keep recording through the cooling.',
      at: { from: broken.from, to: broken.to },
    };
  }
  if (pattern === 'heating-absent') {
    const n = segments.heatings.length;
    return {
      code: 'heating-missing',
      severity: 'repeat',
      message: `The recording holds only ${n === 1 ? 'one heating' : `${n} heatings`}; the one asked for is not in it.`,
      action: n === 1 ? 'Leave --heating out.' : `Give --heating a number from 1 to ${n}, or leave it out.`,
    };
  }
  return { code: 'heating-missing', severity: 'repeat', ...missing[pattern === 'cut' ? 'none' : pattern] };
}

function heatedAgain({ segments, heatingUsed, byHand }: Segmentation): Remark[] {
  const n = segments.heatings.length;
  if (n < 2 || heatingUsed === null) return [];
  const others = n === 2 ? `--heating ${3 - heatingUsed}` : `--heating and a number from 1 to ${n}`;
  return [
    {
      code: 'heated-again',
      severity: 'note',
      message: `The recording holds ${n} heatings; number ${heatingUsed}, which begins at ${figures(
        segments.heatings[heatingUsed - 1]?.from ?? Number.NaN,
      )} s, was taken.`,
      action: byHand.cooling
        ? 'Nothing, where the marks were meant so.'
        : `Give ${others} if a different one was meant.`,
      ...(segments.heating ? { at: segments.heating } : {}),
    },
  ];
}

function interrupted({ segments, dips }: Segmentation): Remark[] {
  const [first] = dips;
  const last = dips.at(-1);
  if (first === undefined || last === undefined) return [];
  const deepest = Math.max(...dips.map((dip) => dip.depth));
  const within = segments.heating !== null && first.from >= segments.heating.from;
  const what = within ? 'The heating was interrupted' : 'A first heating was broken off';
  const times = dips.length === 1 ? '' : ` (the deepest of ${dips.length} such falls)`;
  const baseline = segments.baseline
    ? ` The baseline used is the one from ${figures(segments.baseline.from)} to ${figures(segments.baseline.to)} s.`
    : '';
  return [
    {
      code: 'heated-again',
      severity: 'note',
      message: `${what} at ${figures(first.from)} s: the temperature fell by ${figures(deepest, 2)} K${times} and rose again from ${figures(last.to)} s on.${baseline}`,
      action: 'The cooling is not touched by that; heat in one go next time.',
      at: { from: first.from, to: last.to },
    },
  ];
}

function startsHot({ segments, pattern, rough }: Segmentation): Remark[] {
  if (pattern !== 'starts-hot' || segments.cooling === null) return [];
  const start = rough ? `${figures(Math.abs(rough.excess))} K from ambient` : 'away from ambient';
  return [
    {
      code: 'starts-hot',
      severity: 'caution',
      message: `The recording starts with the body ${start}: neither baseline nor heating is in it.`,
      action:
        'Start recording at least 15 s before the heating; the ambient now rests on the cooling itself or on a given value.',
      at: { from: 0, to: segments.cooling.from },
    },
  ];
}

function peakRemarks({ segments, rough }: Segmentation, limits: ProtocolLimits): Remark[] {
  const { peak } = segments;
  if (peak === null) return [];
  const remarks: Remark[] = [];
  const at = { from: segments.heating?.from ?? peak.time, to: peak.time };
  const step = rough ? Math.abs(rough.excess) : Number.NaN;
  if (limits.peakTarget !== null && peak.temperature < limits.peakTarget) {
    const low = limits.peakTarget - peak.temperature;
    remarks.push({
      code: 'peak-low',
      severity: low > 0.2 * step ? 'caution' : 'note',
      message: `The heating stopped at ${figures(peak.temperature)} °C, ${figures(low, 2)} K below the target of ${figures(limits.peakTarget)} °C.`,
      action: 'Heat longer next time; a smaller step makes noise and ambient weigh more.',
      at,
    });
  }
  if (limits.peakLimit !== null && peak.temperature > limits.peakLimit) {
    remarks.push({
      code: 'peak-over-limit',
      severity: 'caution',
      message: `The body reached ${figures(peak.temperature)} °C; its limit is ${figures(limits.peakLimit)} °C.`,
      action: 'Check the body and its fixing before the next trial, and stop the heating sooner.',
      at,
    });
  }
  return remarks;
}

/**
 * How much a short cooling matters: with a baseline, half of the step already fixes the time constant to a few
 * times the full record's uncertainty; without one the ambient must be seen in the cooling, and below 1.6 time
 * constants its uncertainty is more than three times that of a full record.
 */
function coolingShort({ segments, endFraction }: Segmentation, limits: ProtocolLimits): Remark[] {
  if (endFraction === null || endFraction <= limits.endFraction * 1.05 || segments.cooling === null)
    return [];
  const most = segments.baseline ? 0.5 : 0.2;
  const severity: Severity = endFraction > most ? 'repeat' : 'caution';
  const more = Math.log(endFraction / limits.endFraction);
  return [
    {
      code: 'cooling-short',
      severity,
      message: `The cooling ends at an error fraction of ${figures(endFraction, 2)}; ${figures(limits.endFraction, 2)} was asked for.`,
      action: `Record ${figures(more, 2)} time constants longer${severity === 'repeat' ? ': repeat the trial' : ' next time'}.`,
      at: segments.cooling,
    },
  ];
}

function implausible({ segments, rough }: Segmentation, limits: ProtocolLimits): Remark[] {
  const [low, high] = limits.plausible;
  const outside = [segments.peak?.temperature, rough?.ambient].filter(
    (t): t is number => t !== undefined && (t < low || t > high),
  );
  const first = outside[0];
  if (first === undefined) return [];
  return [
    {
      code: 'temperature-implausible',
      severity: 'repeat',
      message: `A temperature of ${figures(first)} °C is outside the ${figures(low)} to ${figures(high)} °C that the experiment can produce.`,
      action: 'Check unit, sensor type, gain and reference junction of the channel.',
    },
  ];
}

import type { Blocks } from '../recording/index.ts';
import type { Remark, Span } from '../remark/index.ts';
import { fittedAmbientUncertainty } from './ambient.ts';
import type { BaselineReading } from './baseline.ts';
import { baselineRemarks } from './baseline-remarks.ts';
import type { ClassroomResult } from './classroom-types.ts';
import type { FittedCooling } from './cooling.ts';
import type { DecayFit } from './fit-types.ts';
import type { PreparedDecay } from './prepare.ts';
import { rawNoiseRemarks } from './raw-noise-remarks.ts';
import { defaultProtocolLimits, type ProtocolLimits } from './segment-limits.ts';
import { segmentRemarks } from './segment-remarks.ts';
import { at, firstAtOrAfter } from './segment-series.ts';
import type { Segmentation } from './segment-types.ts';
import { figures } from './segment-words.ts';
import type { DecaySettings } from './settings.ts';
import { windowRemarks } from './window-remarks.ts';

/** Everything that is to be said about a recording, in the order of its time; what has no place comes last. */
export function decayRemarks(prepared: PreparedDecay, classroom: ClassroomResult | null): Remark[] {
  const { trace, cooling, segmentation, settings } = prepared;
  const limits = protocolLimits(settings);
  const remarks = [...trace.remarks, ...segmentRemarks(segmentation, limits)];
  if (cooling !== null) {
    remarks.push(
      ...givenAmbientRemarks(cooling, classroom),
      ...driftRemarks(cooling, classroom),
      ...baselineRemarks(
        {
          reading: cooling.baseline,
          span: segmentation.segments.baseline,
          recorded: recordedBefore(segmentation),
          ambientGiven: settings.ambient.kind === 'given',
          endFraction: segmentation.endFraction,
        },
        limits,
      ),
      ...readingRemarks(prepared, cooling, limits),
      ...fitRemarks(cooling),
    );
  }
  const place = ({ at }: Remark) => at?.from ?? Number.MAX_VALUE;
  return remarks.sort((a, b) => place(a) - place(b));
}

/** Time before the heating, back to the heating before it or to the start of the recording, s. */
function recordedBefore({ segments, heatingUsed }: Segmentation): number | null {
  if (segments.heating === null) return null;
  const earlier = heatingUsed === null ? undefined : segments.heatings[heatingUsed - 2];
  return segments.heating.from - (earlier?.to ?? 0);
}

function protocolLimits(settings: DecaySettings): ProtocolLimits {
  return {
    ...defaultProtocolLimits,
    baselineSeconds: settings.shortestBaseline,
    endFraction: settings.endFraction,
    peakTarget: settings.target,
    peakLimit: settings.limit,
  };
}

/** Fewer missing readings in a row than this are dropped samples, not a gap. */
const fewestMissing = 3;

/** Stretches of a span without readings: more of them in a row than a logger drops by chance. */
function gapsWithin(blocks: Blocks, samplePeriod: number, span: Span): Span[] {
  const gaps: Span[] = [];
  const first = firstAtOrAfter(blocks.time, span.from);
  for (let i = Math.max(1, first); i < blocks.length && at(blocks.time, i - 1) < span.to; i++) {
    const half = (n: number) => ((n - 1) / 2) * samplePeriod;
    const from = at(blocks.time, i - 1) + half(at(blocks.count, i - 1));
    const to = at(blocks.time, i) - half(at(blocks.count, i));
    const least = Math.max(fewestMissing * samplePeriod, blocks.width);
    if (to - from - samplePeriod > least) gaps.push({ from, to });
  }
  return gaps;
}

/** Remarks on the readings of the cooling. */
function readingRemarks(
  { trace, segmentation, noise }: PreparedDecay,
  { blocks }: FittedCooling,
  limits: ProtocolLimits,
): Remark[] {
  const { cooling } = segmentation.segments;
  const { rough } = segmentation;
  if (cooling === null || rough === null) return [];
  const remarks = windowRemarks(
    {
      span: cooling,
      readings: blocks.count.reduce((sum, n) => sum + n, 0) + blocks.removed.readings,
      removed: blocks.removed,
      samplePeriod: trace.samplePeriod,
      timeConstant: rough.timeConstant,
      gaps: gapsWithin(trace.blocks, trace.samplePeriod, cooling),
    },
    limits,
  );
  if (noise === null) return remarks;
  const step = Math.abs(rough.excess);
  return [...remarks, ...rawNoiseRemarks({ noise, cooling, step, humFree: blocks.humFree })];
}

/** A change of the cooling rate of more than this part leaves no one time constant to report. */
const bearableChange = 0.1;
/** A departure that moves the time constant by less than this part is said, and no more (common practice, no source). */
const negligible = 0.01;
/** Noise alone fails a test now and then, but hardly by this factor. */
const clearlyFailed = 1.5;

function largeChange({ adequacy }: FittedCooling): boolean {
  const change = adequacy?.rateChange ?? null;
  if (adequacy === null || change === null) return false;
  const clear = adequacy.tests.some(({ statistic, limit }) => Math.abs(statistic) > clearlyFailed * limit);
  return clear && Math.abs(change.share) > bearableChange;
}

function fitRemarks(cooling: FittedCooling): Remark[] {
  const { fit, adequacy } = cooling;
  if (fit.kind === 'failed') {
    return [
      {
        code: 'no-time-constant',
        severity: 'repeat',
        message: `The cooling does not determine the ${fit.parameter}: ${fit.message.split(': ')[0]}.`,
        action: sentence(fit.message.split(': ')[1] ?? 'repeat the trial'),
      },
    ];
  }
  if (adequacy === null || adequacy.firstOrder === true) return [];
  if (adequacy.firstOrder === false && (adequacy.size ?? 0) < negligible) {
    return [
      {
        code: 'not-first-order',
        severity: 'note',
        message: `${adequacy.sentence} It is seen, but it is small: it moves the time constant by about ${figures(100 * (adequacy.size ?? 0), 1)} %.`,
        action: 'Nothing needs to be done; fluctuating air leaves traces of this size.',
      },
    ];
  }
  if (adequacy.firstOrder === false) {
    return [
      {
        code: 'not-first-order',
        severity: largeChange(cooling) ? 'repeat' : 'caution',
        message: adequacy.sentence,
        action: largeChange(cooling)
          ? 'Repeat the trial with the jet and the place of the body unchanged.'
          : 'Look at the residuals; a repeat tells a disturbed jet from a body that is not lumped.',
      },
    ];
  }
  return [
    {
      code: 'adequacy-untested',
      severity: 'note',
      message: adequacy.sentence,
      action: 'Record longer, or with less noise, to test it.',
    },
  ];
}

/** Differences of the two levels of more than this many standard uncertainties are seen. */
const seen = 3;
/** Part of the step that the ambient may be off before the time constant suffers by 5 %. */
const bearable = 0.02;

/**
 * Whether the cooling tends to the level from which the heating started. Only the readings are compared here, so
 * a colder jet counts as well as a drifting zero: both make the ambient wrong. Where the rate changed on the way,
 * the level that a single exponential tends to means nothing.
 */
function driftRemarks(cooling: FittedCooling, classroom: ClassroomResult | null): Remark[] {
  const { fit, free, freed, baseline, adequacy } = cooling;
  if (fit.kind === 'failed' || baseline === null || classroom === null) return [];
  if (freed?.drift) return [drifting(fit, baseline)];
  if (freed === null && largeChange(cooling)) return [];
  const level = freed === null ? free : fit;
  if (level === null) return [];
  const difference = level.ambient - baseline.mean;
  const u = Math.hypot(fittedAmbientUncertainty(level), baseline.standardUncertainty);
  const counts = freed !== null || Math.abs(difference) > bearable * classroom.step;
  if (counts && Math.abs(difference) > seen * u && (freed !== null || adequacy?.firstOrder !== false)) {
    const direction = difference > 0 ? 'above' : 'below';
    return [
      {
        code: 'zero-drift',
        severity: 'caution',
        message: `The cooling tends to a level ${figures(Math.abs(difference), 2)} K ${direction} the baseline (standard uncertainty ${figures(u, 2)} K): either the zero drifted, or the jet has not the temperature of the baseline.`,
        action: 'Read the zero again and the jet without heat; give the ambient of the jet with --ambient.',
      },
    ];
  }
  return slopedBaseline(cooling, baseline);
}

/** A given ambient that is off by more than this part of the step makes nonsense of the time constant. */
const hopeless = 0.1;

/** Whether an ambient from elsewhere is the level that the cooling tends to. */
function givenAmbientRemarks({ prior, free }: FittedCooling, classroom: ClassroomResult | null): Remark[] {
  if (prior.kind !== 'given' || free === null || classroom === null) return [];
  const difference = prior.value - free.ambient;
  const u = Math.hypot(fittedAmbientUncertainty(free), prior.standardUncertainty);
  const part = Math.abs(difference / free.amplitude);
  if (Math.abs(difference) < seen * u || part < bearable) return [];
  const direction = difference > 0 ? 'above' : 'below';
  return [
    {
      code: 'ambient-doubtful',
      severity: part > hopeless ? 'repeat' : 'caution',
      message: `The given ambient of ${figures(prior.value)} °C lies ${figures(Math.abs(difference), 2)} K ${direction} the level that the cooling tends to.`,
      action:
        'Give the ambient as this channel shows it, or leave --ambient out and let the baseline tell it.',
    },
  ];
}

/** The baseline and the cooling lie on a line that is not level. */
function drifting(fit: DecayFit, baseline: BaselineReading): Remark {
  const direction = fit.drift > 0 ? 'rises' : 'falls';
  return {
    code: 'zero-drift',
    severity: 'caution',
    message: `The level under the cooling ${direction} by ${figures(Math.abs(fit.drift), 2)} K/s (the baseline ${describedSlope(baseline)}): the zero drifts, or the jet warms or cools; the fit allows for it.`,
    action:
      'Let the chain warm up, read the zero before and after the trial, and wait until the jet is steady.',
  };
}

function slopedBaseline({ driftUncertainty }: FittedCooling, baseline: BaselineReading): Remark[] {
  // Only a slope of the baseline widens what is allowed for.
  if (driftUncertainty !== Math.abs(baseline.slope)) return [];
  return [
    {
      code: 'zero-drift',
      severity: 'caution',
      message: `The baseline ${describedSlope(baseline)}: the zero drifts, or the sensor was not at the temperature of the jet; the fit allows for a drift of that size.`,
      action:
        'Let the chain warm up, and wait until the sensor has the temperature of the jet before recording.',
    },
  ];
}

function describedSlope({ slope, slopeUncertainty }: BaselineReading): string {
  const direction = slope > 0 ? 'rises' : 'falls';
  return `${direction} by ${figures(Math.abs(slope), 2)} K/s, standard uncertainty ${figures(slopeUncertainty, 2)} K/s`;
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1).replace(/\.$/, '')}.`;
}

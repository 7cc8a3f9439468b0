import type { Remark } from '../remark/index.ts';
import { fittedAmbientUncertainty } from './ambient.ts';
import { baselineRemarks } from './baseline-remarks.ts';
import type { ClassroomResult } from './classroom-types.ts';
import type { FittedCooling } from './cooling.ts';
import type { PreparedDecay } from './prepare.ts';
import { rawNoiseRemarks } from './raw-noise-remarks.ts';
import { defaultProtocolLimits, type ProtocolLimits } from './segment-limits.ts';
import { segmentRemarks } from './segment-remarks.ts';
import type { DecaySettings } from './settings.ts';
import { windowRemarks } from './window-remarks.ts';

/** Everything that is to be said about a recording, in the order of its time; what has no place comes last. */
export function decayRemarks(prepared: PreparedDecay, classroom: ClassroomResult | null): Remark[] {
  const { trace, cooling, segmentation, settings } = prepared;
  const limits = protocolLimits(settings);
  const remarks = [...trace.remarks, ...segmentRemarks(segmentation, limits)];
  if (cooling !== null) {
    remarks.push(
      ...baselineRemarks(
        {
          reading: cooling.baseline,
          span: segmentation.segments.baseline,
          ambientGiven: settings.ambient.kind === 'given',
          endFraction: segmentation.endFraction,
        },
        limits,
      ),
      ...readingRemarks(prepared, cooling, limits),
      ...fitRemarks(cooling),
      ...driftRemarks(cooling, classroom),
    );
  }
  const place = ({ at }: Remark) => at?.from ?? Number.MAX_VALUE;
  return remarks.sort((a, b) => place(a) - place(b));
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
    },
    limits,
  );
  if (noise === null) return remarks;
  const step = Math.abs(rough.excess);
  return [...remarks, ...rawNoiseRemarks({ noise, cooling, step, humFree: blocks.humFree })];
}

function fitRemarks({ fit, adequacy }: FittedCooling): Remark[] {
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
  if (adequacy.firstOrder === false) {
    return [
      {
        code: 'not-first-order',
        severity: 'caution',
        message: adequacy.sentence,
        action: 'Look at the residuals; a repeat tells a disturbed jet from a body that is not lumped.',
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
 * a colder jet counts as well as a drifting zero: both make the ambient wrong.
 */
function driftRemarks({ fit, free, baseline }: FittedCooling, classroom: ClassroomResult | null): Remark[] {
  if (fit.kind === 'failed' || free === null || baseline === null || classroom === null) return [];
  const difference = free.ambient - baseline.mean;
  const u = Math.hypot(fittedAmbientUncertainty(free), baseline.standardUncertainty);
  if (Math.abs(difference) < seen * u || Math.abs(difference) < bearable * classroom.step) return [];
  const direction = difference > 0 ? 'above' : 'below';
  return [
    {
      code: 'zero-drift',
      severity: 'caution',
      message: `The cooling tends to a level ${Math.abs(difference).toFixed(1)} K ${direction} the baseline (standard uncertainty ${u.toFixed(1)} K).`,
      action: 'Read the zero again and the jet without heat; give the ambient of the jet with --ambient.',
    },
  ];
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1).replace(/\.$/, '')}.`;
}

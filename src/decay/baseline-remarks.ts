import type { Remark, Span } from '../remark/index.ts';
import type { BaselineReading } from './baseline.ts';
import type { ProtocolLimits } from './segment-limits.ts';
import { figures } from './segment-words.ts';

/** What is known about the baseline. */
export interface BaselineFacts {
  readonly reading: BaselineReading | null;
  readonly span: Span | null;
  /** From the start of the recording, or the end of an earlier cooling, to the heating, s; null without one. */
  readonly recorded?: number | null;
  /** Whether the ambient is given from elsewhere. */
  readonly ambientGiven: boolean;
  /** Error fraction at the end of the cooling; null without a cooling. */
  readonly endFraction: number | null;
}

/** Remarks on the stretch before the heating: `baseline-missing`, `baseline-short`, `baseline-unsteady`. */
export function baselineRemarks(facts: BaselineFacts, limits: ProtocolLimits): Remark[] {
  const { reading, span } = facts;
  if (reading === null || span === null) return facts.endFraction === null ? [] : [baselineMissing(facts)];
  return [...baselineShort(reading, span, facts.recorded ?? 0, limits), ...baselineUnsteady(reading, span)];
}

function baselineMissing({ ambientGiven, endFraction }: BaselineFacts): Remark {
  const code = 'baseline-missing';
  const reached = `the cooling itself ends at an error fraction of ${figures(endFraction ?? Number.NaN, 2)}`;
  if (ambientGiven) {
    return {
      code,
      severity: 'note',
      message: 'No baseline was recorded before the heating; the given ambient was used.',
      action: 'Record a baseline next time: then an error of the scale drops out.',
    };
  }
  // Up to about three time constants a fitted ambient widens the interval severalfold.
  const severity = (endFraction ?? 1) > 0.2 ? 'repeat' : 'caution';
  return {
    code,
    severity,
    message: `No baseline was recorded before the heating, and ${reached}: the ambient rests on the cooling alone.`,
    action: 'Record at least 15 s with the jet on before the heating, or give the ambient.',
  };
}

/** Where enough was recorded, a steady part that is shorter than the limit by less than this needs no word. */
const steadyShare = 0.5;

function baselineShort(
  reading: BaselineReading,
  span: Span,
  recorded: number,
  limits: ProtocolLimits,
): Remark[] {
  const uncertain = reading.standardUncertainty > limits.baselineUncertainty;
  // A tenth of a second less is the width of a block.
  if (reading.duration >= limits.baselineSeconds - 0.1 && !uncertain) return [];
  const enough = recorded >= limits.baselineSeconds - 0.1;
  if (enough && !uncertain && reading.duration >= steadyShare * limits.baselineSeconds) return [];
  if (enough && reading.duration < limits.baselineSeconds - 0.1) {
    return [
      {
        code: 'baseline-short',
        severity: uncertain ? 'caution' : 'note',
        message: `Of the ${figures(recorded)} s before the heating only ${figures(reading.duration)} s were steady (warmed before, or drifting); they give the ambient to ${figures(reading.standardUncertainty, 2)} K.`,
        action: `Let the sensor take the temperature of the jet untouched, then record ${figures(limits.baselineSeconds)} s before the heating.`,
        at: span,
      },
    ];
  }
  // The variance of a mean falls as one over the length.
  const factor = (reading.standardUncertainty / limits.baselineUncertainty) ** 2;
  const needed = Math.max(limits.baselineSeconds, reading.duration * factor);
  return [
    {
      code: 'baseline-short',
      severity: uncertain ? 'caution' : 'note',
      message: `The baseline of ${figures(reading.duration)} s gives the ambient to ${figures(reading.standardUncertainty, 2)} K.`,
      action: `Record ${figures(Math.ceil(needed))} s before the heating next time.`,
      at: span,
    },
  ];
}

function baselineUnsteady(reading: BaselineReading, span: Span): Remark[] {
  if (reading.steady) return [];
  const direction = reading.change > 0 ? 'rises' : 'falls';
  return [
    {
      code: 'baseline-unsteady',
      severity: 'caution',
      message: `The baseline ${direction} by ${figures(Math.abs(reading.change), 2)} K over ${figures(reading.duration)} s.`,
      action: 'Wait until the sensor has the temperature of the jet before recording; keep the jet on.',
      at: span,
    },
  ];
}

import type { TraceFigureData } from '../figure/index.ts';
import type { AnalyzedFile } from './analyze-file.ts';
import { timeConstantWords, verdictWords } from './words.ts';

/** What of an analysis its figure needs. */
interface AnalyzedTrace extends Pick<AnalyzedFile, 'trace' | 'decay'> {
  readonly recording: Pick<AnalyzedFile['recording'], 'name'>;
}

/** What the figure of a recording shows. */
export function traceFigureData({ recording, trace, decay }: AnalyzedTrace): TraceFigureData {
  const { fit, timeConstant, ambient, window } = decay;
  const start = window?.from ?? 0;
  return {
    name: recording.name,
    headline: timeConstant === null ? 'No time constant' : `Time constant ${timeConstantWords(timeConstant)}`,
    verdict: verdictWords[decay.verdict],
    time: trace.blocks.time,
    temperature: trace.blocks.mean,
    envelope: { low: trace.blocks.min, high: trace.blocks.max },
    segments: { ...decay.segments, window },
    ambient: ambient === null ? null : { value: ambient.value, u: ambient.standardUncertainty },
    fit:
      fit === null
        ? null
        : {
            tStart: fit.start,
            a: fit.ambient,
            b: fit.amplitude,
            c: fit.drift,
            tb: fit.driftOrigin,
            tau: fit.timeConstant,
          },
    timeConstant,
    limits: [0.9, 0.1],
    points: decay.points
      .filter(({ time }) => window !== null && time >= start && time <= window.to)
      .map(({ time, errorFraction, fitted }) => ({ time: time - start, errorFraction, fitted })),
    remarks: decay.remarks,
  };
}

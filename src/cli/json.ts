import type { AnalyzedFile } from '../analysis/index.ts';
import { RecordingError } from '../recording/index.ts';
import type { Decision } from '../store/index.ts';

/**
 * A result as programs read it: times in s, temperatures in °C, differences in K. Fields may be added; those that
 * are here keep their names.
 */
export function resultAsJson({ recording, trace, decay }: AnalyzedFile, decisions: readonly Decision[]) {
  return {
    recording: {
      path: recording.path,
      sha256: recording.sha256,
      bytes: recording.bytes,
      samples: recording.samples,
      rate: recording.rate,
      duration: recording.duration,
      startedAt: recording.startedAt,
      channel: recording.channel.name,
      column: recording.channel.column,
      unit: recording.channel.unit,
      dialect: recording.dialect,
      conversion: trace.described,
    },
    segments: {
      baseline: decay.segments.baseline,
      heating: decay.segments.heating,
      peak: decay.segments.peak,
      heatOff: decay.segments.heatOff,
      hotTail: decay.segments.hotTail,
      cooling: decay.segments.cooling,
      window: decay.window,
      heatings: decay.segments.heatings,
    },
    ambient: decay.ambient,
    estimates: decay.estimates,
    timeConstant: decay.timeConstant,
    endFraction: decay.endFraction,
    noise: decay.noise,
    adequacy: decay.adequacy,
    budget: decay.budget,
    fingerprint: decay.fingerprint,
    remarks: decay.remarks,
    verdict: decay.verdict,
    decisions,
  };
}

/** A recording that could not be analyzed, as programs read it. */
export function failureAsJson(path: string, error: Error) {
  const known = error instanceof RecordingError ? error : null;
  return {
    recording: { path },
    error: {
      code: known?.code ?? 'not-analyzed',
      message: error.message,
      line: known?.line ?? null,
      mend: known?.mend ?? null,
    },
  };
}

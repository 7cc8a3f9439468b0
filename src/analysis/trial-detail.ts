import type { EstimateMethod } from '../decay/index.ts';
import { openEnded } from './detail.ts';
import { expectedOf } from './expected.ts';
import type { FolderEntry } from './folder-entry.ts';
import type { RecordingDetail } from './types.ts';

/** What is kept of a recording's analysis beside its summary, named as in the whole of it. */
export interface TrialDetail {
  readonly file: Pick<RecordingDetail['file'], 'sha256'>;
  readonly read: Pick<RecordingDetail['read'], 'rate' | 'samples'>;
  readonly estimates: readonly {
    readonly method: EstimateMethod;
    readonly value: number;
    readonly standardUncertainty: number;
    readonly classroom: { readonly value: number; readonly standardError: number | null } | null;
  }[];
  readonly ambient: { readonly value: number; readonly standardUncertainty: number } | null;
  readonly endFraction: number | null;
  readonly adequacy: { readonly firstOrder: boolean | null } | null;
  readonly prediction: {
    readonly timeConstant: number;
    readonly interval: readonly [number, number | null];
  } | null;
}

/** What is kept of a recording; null where it is not analyzed or cannot be read. */
export function trialDetail({ result, sha256, placed, experiment }: FolderEntry): TrialDetail | null {
  if (result?.kind !== 'analyzed' || sha256 === null) return null;
  const { beside } = result.essence;
  if (beside === null) return null;
  const { rate, samples, estimates, ambient, endFraction, firstOrder } = beside;
  const expected = expectedOf(experiment, placed.condition);
  const prediction = expected.ok ? expected.prediction.timeConstant : null;
  return {
    file: { sha256 },
    read: { rate, samples },
    estimates,
    ambient,
    endFraction,
    adequacy: { firstOrder },
    prediction:
      prediction === null
        ? null
        : { timeConstant: prediction.value, interval: openEnded(prediction.interval) },
  };
}

import {
  type BackCalculated,
  type ConditionComparison,
  compareAll,
  compareTrends,
  type Experiment,
} from '../experiment/index.ts';
import type { AgreementVerdict } from '../quantity/index.ts';
import type { Severity } from '../remark/index.ts';
import { openEnded } from './detail.ts';
import { expectedOf } from './expected.ts';
import type { MeasuredFolder } from './pool.ts';
import type { Interval95 } from './types.ts';

/** Calculated back from a measured time constant. */
interface WorkedBack {
  readonly value: number;
  readonly interval: Interval95;
}

/** Measured against predicted, a row a condition. */
export interface FolderComparison {
  readonly conditions: {
    readonly body: string;
    readonly flow: string;
    readonly measured: {
      readonly value: number;
      readonly standardUncertainty: number;
      readonly interval: Interval95;
      readonly runs: { readonly path: string; readonly group: string | null; readonly value: number }[];
    };
    readonly predicted: { readonly value: number; readonly interval: [number, number | null] } | null;
    readonly verdict: 'agrees' | 'disagrees' | 'inconclusive' | null;
    readonly sentence: string;
    readonly remarks: string[];
    /** What the measured time constant stands for: W/(m² K), and the Nusselt number; null where it allows none. */
    readonly heatTransfer: {
      readonly total: WorkedBack;
      readonly convection: WorkedBack;
      readonly nusselt: WorkedBack;
    } | null;
  }[];
  readonly trends: {
    readonly material: string;
    /** diameter or flow. */
    readonly what: string;
    readonly exponent: {
      readonly value: number;
      readonly interval: Interval95 | null;
      readonly expected: number | null;
    };
    readonly sentence: string;
  }[];
  /** What is to be kept in mind about recordings that count, cautions first; what several share, once. */
  readonly noted: {
    readonly code: string;
    readonly severity: Severity;
    readonly message: string;
    readonly paths: string[];
  }[];
  /** Recordings that do not count. */
  readonly left: { readonly path: string; readonly why: string }[];
}

const verdicts: Readonly<Record<AgreementVerdict, 'agrees' | 'disagrees' | 'inconclusive'>> = {
  agree: 'agrees',
  disagree: 'disagrees',
  'too-weak-to-tell': 'inconclusive',
};

/**
 * Holds the recordings of a folder against theory.
 *
 * @param measured the recordings, put together by condition
 * @param groupOf the group that made a recording
 */
export function folderComparison(
  experiment: Experiment,
  measured: MeasuredFolder,
  groupOf: (path: string) => string | null,
): FolderComparison {
  const predictions = measured.measured.map(({ condition }) => expectedOf(experiment, condition));
  const comparisons = compareAll(experiment, measured.measured, predictions);
  return {
    conditions: comparisons.map((one) => statedCondition(one, groupOf)),
    trends: compareTrends(experiment, comparisons).flatMap(({ material, trends }) =>
      trends.map(({ of, measured: found, predicted, sentence }) => ({
        material,
        what: of === 'velocity' ? 'flow' : of,
        exponent: {
          value: found.value,
          interval: found.interval.every(Number.isFinite)
            ? ([found.interval[0], found.interval[1]] satisfies Interval95)
            : null,
          expected: predicted.value,
        },
        sentence,
      })),
    ),
    noted: notedAbout(measured),
    left: [
      ...measured.recordings.flatMap(({ path, excluded }) => {
        return excluded === null ? [] : [{ path, why: excluded }];
      }),
      ...measured.asked.map(({ path, message }) => ({ path, why: message })),
    ],
  };
}

function notedAbout({ recordings }: MeasuredFolder): FolderComparison['noted'] {
  const noted = new Map<string, FolderComparison['noted'][number]>();
  for (const { path, excluded, notes } of recordings) {
    if (excluded !== null) continue;
    for (const { code, severity, message } of notes) {
      const name = JSON.stringify([code, message]);
      const paths = noted.get(name)?.paths ?? [];
      noted.set(name, { code, severity, message, paths: [...paths, path] });
    }
  }
  const isNote = ({ severity }: { readonly severity: Severity }) => Number(severity === 'note');
  return [...noted.values()].sort((a, b) => isNote(a) - isNote(b));
}

function statedCondition(
  one: ConditionComparison,
  groupOf: (path: string) => string | null,
): FolderComparison['conditions'][number] {
  const { condition, measured, prediction, comparison, message, heatTransfer, remarks } = one;
  const { value, standardUncertainty, interval, runs } = measured;
  return {
    ...condition,
    measured: {
      value,
      standardUncertainty,
      interval: [interval[0], interval[1]],
      runs: runs.map(({ name, timeConstant }) => ({
        path: name,
        group: groupOf(name),
        value: timeConstant,
      })),
    },
    predicted:
      prediction === null
        ? null
        : { value: prediction.timeConstant.value, interval: openEnded(prediction.timeConstant.interval) },
    verdict: comparison === null ? null : verdicts[comparison.verdict],
    sentence: comparison?.sentence ?? message ?? '',
    remarks: remarks.map(({ message: seen, action }) => `${seen} ${action}`),
    heatTransfer:
      heatTransfer === null
        ? null
        : {
            total: workedBack(heatTransfer.total),
            convection: workedBack(heatTransfer.convection),
            nusselt: workedBack(heatTransfer.nusselt),
          },
  };
}

function workedBack({ value, interval: [low, high] }: BackCalculated): WorkedBack {
  return { value, interval: [low, high] };
}

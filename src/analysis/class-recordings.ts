import type { ClassRecording, TraceSketch } from '../class/index.ts';
import {
  type Experiment,
  entryOf,
  type PredictedCondition,
  type RecordingPlace,
} from '../experiment/index.ts';
import type { Essence } from './essence.ts';
import type { PlacedRecording } from './measure.ts';

/** What a folder knows of a recording. */
export interface KnownRecording {
  readonly placed: PlacedRecording;
  /** Null where it is not analyzed, or cannot be read. */
  readonly essence: Essence | null;
  readonly sha256: string | null;
  /** Why it does not count; null where it does. */
  readonly excluded: string | null;
}

/**
 * A recording as the class sees it.
 *
 * @param term that it is of; null for this one
 */
export function classRecording(
  experiment: Experiment,
  { placed, essence, sha256, excluded }: KnownRecording,
  predicted: PredictedCondition | null,
  term: string | null,
): ClassRecording {
  const { path, place, condition } = placed;
  const { timeConstant = null, run = null, sketch = null } = essence ?? {};
  const { section, group, bench, repeat } = place;
  return {
    path,
    term,
    section,
    group,
    bench,
    ...rosterOf(experiment, place),
    ...condition,
    repeat,
    day: dayOf(essence?.startedAt ?? null),
    timeConstant:
      timeConstant === null || run === null
        ? null
        : { value: timeConstant.value, ...run, degreesOfFreedom: timeConstant.degreesOfFreedom },
    predicted: predicted?.ok === true ? predicted.prediction.timeConstant.value : null,
    counts: excluded === null && run !== null,
    reason: excluded,
    sha256,
    chain: essence?.chain ?? null,
    ambient: essence?.ambient ?? null,
    sketch: sketch === null ? null : sketchFrom(sketch),
  };
}

function rosterOf(
  { groups }: Experiment,
  { group }: RecordingPlace,
): Pick<ClassRecording, 'home' | 'borrows'> {
  const own = group === null ? undefined : entryOf(groups, group);
  return {
    home: { section: own?.section ?? null, bench: own?.bench ?? null },
    borrows: own?.borrows ?? [],
  };
}

function dayOf(startedAt: string | null): string | null {
  return /^\d{4}-\d\d-\d\d/.exec(startedAt ?? '')?.[0] ?? null;
}

/** Kept numbers as a sketch: an empty cell is kept as null. */
function sketchFrom(kept: readonly (number | null)[]): TraceSketch {
  return { residuals: kept.map((one) => one ?? Number.NaN) };
}

import type { PredictionInput } from '../prediction/index.ts';
import type { GroupSlipName } from './group-slips.ts';

/** What one group does otherwise than another, all of it right. */
export interface GroupHabits {
  /** About how many readings its spreadsheet holds. */
  readonly rows: number;
  /** Error fractions of its window. */
  readonly upper: number;
  readonly lower: number;
  /** Whether it starts where the curve begins to fall, or at the hottest reading. */
  readonly fromKnee: boolean;
  /** Whether it takes the first reading below the level, or reads off between two. */
  readonly firstBelow: boolean;
  /** How much of the baseline it takes the mean of, s; from its end. */
  readonly baseline: number;
  /** Figures of a time constant. */
  readonly figures: number;
}

/** What a group works from, beside its recording: numbers of the experiment file and its own ways. */
export interface GroupTask {
  readonly slips: readonly GroupSlipName[];
  readonly habits: GroupHabits;
  readonly input: PredictionInput;
  readonly accuracy: { readonly relative: number; readonly coverageFactor: number };
  /** What a thermometer in the room shows, °C. */
  readonly room: number | null;
}

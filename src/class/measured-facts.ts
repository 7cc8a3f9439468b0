import type { StudentChoices, UncertaintyChoices } from './student-choices.ts';
import type { StudentRecording } from './student-recording.ts';

/** What is known of a recording that values were worked from. */
export interface MeasuredFacts {
  readonly recording: StudentRecording;
  /** Standard uncertainties of the three time constants with all that makes them uncertain, s. */
  readonly standardUncertainties: Readonly<Partial<Record<'point' | 'origin' | 'intercept', number>>>;
}

/** How a student comes from a recording to its values. */
export interface MeasuredChoices {
  readonly working: StudentChoices;
  readonly uncertainty: UncertaintyChoices;
}

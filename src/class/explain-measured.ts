import {
  type Explanation,
  type Freedom,
  type Hypothesis,
  rankHypotheses,
  type SubmittedValue,
} from './slip-search.ts';
import { type MeasurementSlip, measurementSlips } from './slips-measured.ts';
import { type StudentRecording, type StudentValues, studentValues } from './student.ts';
import { type StudentChoices, taughtChoices } from './student-choices.ts';

/** A pair of slips beside two single ones (common practice, no source). */
const pairOdds = 0.5;

/** Where a class cuts its window and which reading it starts from moves the values by so much, as a part of them. */
const measuredFreedom: Freedom = { point: 0.008, origin: 0.006, intercept: 0.008 };

/**
 * Which slips, single or in pairs, give the time constants that a group handed in: every calculation is done on the
 * group's own recording.
 *
 * @param submitted time constants by `point`, `origin`, `intercept`, as they were written
 */
export function explainMeasured(
  recording: StudentRecording,
  submitted: readonly SubmittedValue[],
): Explanation[] {
  const point = submitted.find(({ name }) => name === 'point')?.value ?? Number.POSITIVE_INFINITY;
  // Whoever takes the first reading below the level is late by up to one reading.
  const late = 1 / recording.rate / Math.abs(point);
  const freedom = { ...measuredFreedom, point: Math.hypot(measuredFreedom['point'] ?? 0, late) };
  return rankHypotheses(submitted, measuredHypotheses(recording), freedom);
}

/** The right calculation, every slip and every pair that this recording allows. */
function measuredHypotheses(recording: StudentRecording): Hypothesis[] {
  const right = hypothesis([], taughtChoices, recording, 1);
  const hypotheses = [right];
  measurementSlips.forEach((first, i) => {
    const once = first.apply(taughtChoices, recording);
    if (once === null) return;
    hypotheses.push(hypothesis([first], once, recording, first.odds));
    for (const second of measurementSlips.slice(i + 1)) {
      const alone = second.apply(taughtChoices, recording);
      const twice = second.apply(once, recording);
      const other = alone === null ? null : first.apply(alone, recording);
      // Slips about one choice undo each other in one order or the other.
      if (twice === null || other === null || JSON.stringify(twice) !== JSON.stringify(other)) continue;
      hypotheses.push(hypothesis([first, second], twice, recording, pairOdds * first.odds * second.odds));
    }
  });
  return hypotheses;
}

function hypothesis(
  slips: readonly MeasurementSlip[],
  choices: StudentChoices,
  recording: StudentRecording,
  odds: number,
): Hypothesis {
  const { point, origin, intercept }: StudentValues = studentValues(recording, choices);
  return {
    codes: slips.map(({ code }) => code),
    words: slips.map(({ words }) => words),
    odds,
    values: { point, origin, intercept },
  };
}

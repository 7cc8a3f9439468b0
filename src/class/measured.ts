import { normalQuantile, studentQuantile } from '../quantity/index.ts';
import {
  type Calculated,
  type Catalogue,
  choosing,
  type Freedom,
  type Slip,
  type Variant,
} from './hypotheses.ts';
import type { MeasuredChoices, MeasuredFacts } from './measured-facts.ts';
import { measuredSlips } from './slips-measured.ts';
import { type StudentRegression, type StudentValues, studentValues } from './student.ts';
import {
  type StudentChoices,
  taughtChoices,
  taughtUncertainty,
  type UncertaintyChoices,
} from './student-choices.ts';
import type { StudentRecording } from './student-recording.ts';
import type { SubmittedValue } from './submission.ts';

/** Every how many readings a class may keep one, with odds that are even over decades (common practice, no source). */
const thinnings = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const;
/** Fewer readings than this are no regression that a class would make. */
const fewestReadings = 8;

/** In the first so many ways of working pairs of slips are tried, with every way to their uncertainties. */
const workingsWithPairs = 2;

/**
 * What to try with a recording: right ways of working, and slips.
 *
 * @param submitted about that recording
 */
export function measuredCatalogue(
  facts: MeasuredFacts,
  submitted: readonly SubmittedValue[],
): Catalogue<MeasuredChoices, MeasuredFacts> {
  const own = submitted.find(({ quantity }) => quantity === 'standard-uncertainty')?.value ?? null;
  const uncertain = submitted.some(({ quantity }) => quantity.endsWith('-uncertainty'));
  const uncertainties = uncertain
    ? uncertaintyVariants(facts.recording, facts.standardUncertainties.origin !== undefined)
    : [{ choices: taughtUncertainty, odds: 1 }];
  return {
    variants: measuredVariants(facts.recording, uncertainties),
    slips: [...(own !== null && own > 0 ? [ownUncertainty(own)] : []), ...measuredSlips],
    pairsIn: workingsWithPairs * uncertainties.length,
    calculate: measuredCalculator(),
    freedom: measuredFreedom,
  };
}

/** As many rows as the shortest spreadsheet of a class may have. */
const fewestRows = 400;

/** Time between rows of a spreadsheet that holds a recording thinned as far as a class may, s. */
export function rowOf({ time, rate }: StudentRecording): number {
  const duration = (time[time.length - 1] ?? 0) - (time[0] ?? 0);
  return Math.max(1 / rate, duration / fewestRows);
}

/** Where a class cuts its window and which reading it starts from; and what a standard error changes by with them. */
const usualMeasuredFreedom: Freedom = {
  point: 0.008,
  origin: 0.008,
  intercept: 0.01,
  'standard-uncertainty': 0.1,
  'expanded-uncertainty': 0.1,
};

const bentFreedom = 0.1;
const mostFreedom = 0.06;
/** Part of a late start by which a fit through the origin from 90 to 10 % grows. */
export const startShare = 0.65;

/** Whoever takes the first reading below the level is late by up to one row. */
function measuredFreedom(
  { recording }: MeasuredFacts,
  { working }: MeasuredChoices,
  { point, origin, intercept }: Calculated,
): Freedom {
  const row = rowOf(recording) * working.secondIs;
  const late = row / Math.abs(point ?? Number.POSITIVE_INFINITY);
  const fitted = Math.abs(origin ?? Number.POSITIVE_INFINITY);
  const started = startShare * row * (working.report === 'slope' ? fitted : 1 / fitted);
  // Where the logarithm is no straight line, it matters more where the window is cut.
  const bent = origin && intercept ? Math.abs(Math.log(Math.abs(origin / intercept))) : 0;
  const cut = bentFreedom * Math.min(1, bent);
  const { point: reading = 0, origin: through = 0, intercept: free = 0 } = usualMeasuredFreedom;
  return {
    ...usualMeasuredFreedom,
    point: Math.min(mostFreedom, Math.hypot(reading, late)),
    origin: Math.min(mostFreedom, Math.hypot(through, cut, started)),
    intercept: Math.hypot(free, cut),
  };
}

/** Expanding an own value is no slip: where that is off, it is off by itself. */
function ownUncertainty(own: number): Slip<MeasuredChoices, MeasuredFacts> {
  const choose = choosing<UncertaintyChoices>({ own });
  return {
    code: 'from-own-standard-uncertainty',
    words: "the group's own standard uncertainty was expanded",
    odds: 0.5,
    apply: (choices) => {
      const made = choose(choices.uncertainty);
      return made === null ? null : { ...choices, uncertainty: made };
    },
  };
}

/**
 * Right ways of working: which of two good starts, which of two good ambients, whether the crossing is read off between
 * readings; and in each of these every way to the uncertainties.
 */
function measuredVariants(
  recording: StudentRecording,
  uncertainties: readonly Variant<UncertaintyChoices>[],
): Variant<MeasuredChoices>[] {
  const starts: Variant<Partial<StudentChoices>>[] = [
    { choices: {}, odds: 1 },
    { choices: { start: 'heat-off' }, odds: 0.5 },
  ];
  const ambients: Variant<Partial<StudentChoices>>[] = [
    { choices: {}, odds: 1 },
    ...(recording.jet === null ? [] : [{ choices: { ambient: 'jet' } as const, odds: 0.3 }]),
  ];
  const crossings: Variant<Partial<StudentChoices>>[] = [
    { choices: {}, odds: 1 },
    { choices: { crossing: 'first-below' }, odds: 0.5 },
  ];
  const workings = crossings.flatMap((crossing) =>
    ambients.flatMap((ambient) =>
      starts.map((start) => ({
        choices: { ...taughtChoices, ...start.choices, ...ambient.choices, ...crossing.choices },
        odds: start.odds * ambient.odds * crossing.odds,
      })),
    ),
  );
  return workings.flatMap((working) =>
    uncertainties.map((uncertainty) => ({
      choices: { working: working.choices, uncertainty: uncertainty.choices },
      odds: working.odds * uncertainty.odds,
    })),
  );
}

/** Of how many readings and of which fit, or the whole budget. */
function uncertaintyVariants(recording: StudentRecording, budget: boolean): Variant<UncertaintyChoices>[] {
  const readings = studentValues(recording, taughtChoices).regressions.origin?.readings ?? 0;
  const kept = thinnings.filter((every) => every === 1 || readings / every >= fewestReadings);
  const regressed = (['origin', 'intercept'] as const).flatMap((from) =>
    kept.map((thinnedBy) => ({
      choices: { ...taughtUncertainty, from, thinnedBy },
      odds: (thinnedBy === 1 ? 1 : 0.3) * (from === 'origin' ? 1 : 0.3),
    })),
  );
  const budgets = budget ? [{ choices: { ...taughtUncertainty, from: 'budget' as const }, odds: 0.3 }] : [];
  return [...regressed, ...budgets];
}

/**
 * The values of a recording by a student's choices, done on it. Work that differs in its uncertainty only shares its
 * regressions.
 */
function measuredCalculator(): (facts: MeasuredFacts, choices: MeasuredChoices) => Calculated {
  const done = new Map<string, StudentValues>();
  return (facts, { working, uncertainty }) => {
    const key = JSON.stringify(working);
    const values = done.get(key) ?? studentValues(facts.recording, working);
    done.set(key, values);
    const { point, origin, intercept } = values;
    return { point, origin, intercept, ...uncertaintiesOf(facts, values, uncertainty) };
  };
}

function uncertaintiesOf(
  { standardUncertainties }: MeasuredFacts,
  { regressions }: StudentValues,
  choices: UncertaintyChoices,
): Calculated {
  const none = { 'standard-uncertainty': null, 'expanded-uncertainty': null };
  if (choices.own !== null) {
    return { ...none, 'expanded-uncertainty': choices.own * normalQuantile(0.975) };
  }
  if (choices.from === 'budget') {
    const standard = standardUncertainties.origin;
    return standard === undefined ? none : stated(standard, normalQuantile(0.975), choices);
  }
  const fit = regressions[choices.from];
  const error = fit === null ? null : standardError(fit, choices.thinnedBy);
  if (fit === null || error === null) return none;
  const standard = choices.of === 'slope' ? error.slope : error.slope / fit.slope ** 2;
  return stated(standard, studentQuantile(0.975, error.degreesOfFreedom), choices);
}

/** As a regression prints it, of one reading in so many. */
function standardError(
  { readings, parameters, residual, spread }: StudentRegression,
  thinnedBy: number,
): { readonly slope: number; readonly degreesOfFreedom: number } | null {
  const degreesOfFreedom = readings / thinnedBy - parameters;
  if (!(degreesOfFreedom > 1)) return null;
  const variance = residual / thinnedBy / degreesOfFreedom;
  return { slope: Math.sqrt(variance / (spread / thinnedBy)), degreesOfFreedom };
}

function stated(
  standard: number,
  student: number,
  { expandedBy, standardIs }: UncertaintyChoices,
): Calculated {
  return {
    'standard-uncertainty': standardIs === 'expanded' ? standard * student : standard,
    'expanded-uncertainty': expandedBy === 'student' ? standard * student : standard,
  };
}

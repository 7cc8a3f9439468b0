import { type CourseTerms, correlationOfTerms, courseTerms, rigTerms } from '../analysis/index.ts';
import {
  type CorrelationForm,
  type NoCorrelation,
  type RigChart,
  type RigCorrelation,
  rigCharts,
  rigSeries,
} from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { settleResults } from './settle-results.ts';
import { printable, type Surroundings } from './terminal.ts';

/** The correlation of a rig with the terms that it is made from. */
export interface RigOutlook {
  readonly terms: CourseTerms;
  readonly correlation: RigCorrelation | NoCorrelation;
}

/**
 * The rig's own correlation from this and earlier terms. Recordings of this term that wait are analyzed first, with a
 * bar; of earlier terms only what is kept is taken.
 */
export async function rigOutlook(
  folder: string,
  experiment: Experiment,
  surroundings: Surroundings,
  form: CorrelationForm = 'power',
): Promise<RigOutlook> {
  const terms = await openTerms(folder, experiment, surroundings);
  await settleResults(folder, surroundings);
  return { terms, correlation: await correlationOfTerms(terms, form) };
}

/** What is followed of the rigs over the terms. */
export async function chartsOverTerms(
  folder: string,
  experiment: Experiment,
  surroundings: Surroundings,
): Promise<RigChart[]> {
  const terms = await openTerms(folder, experiment, surroundings);
  return rigCharts(rigSeries(await rigTerms(terms)));
}

async function openTerms(
  folder: string,
  experiment: Experiment,
  { stderr }: Surroundings,
): Promise<CourseTerms> {
  const terms = await courseTerms(folder, experiment);
  for (const { written, message } of terms.missing) {
    stderr.write(`emberline: earlier term ${printable(written)}: ${printable(message)}\n`);
  }
  return terms;
}

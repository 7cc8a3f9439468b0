import {
  type Assessment,
  assessSubmission,
  type MeasuredFacts,
  type PredictedFacts,
  partOf,
} from '../class/index.ts';
import {
  type Condition,
  conditionName,
  type Experiment,
  entryOf,
  type SubmittedQuantity,
} from '../experiment/index.ts';
import type { KnownRecording, PlacedRow } from '../marking/index.ts';
import type { HandedIn } from './handed-in.ts';

/** A row of a submission, held against its own recording and condition. */
export interface MarkedRow {
  readonly placed: PlacedRow;
  readonly assessment: Assessment;
  /** What keeps the recording from being held against; null where nothing does. */
  readonly trouble: string | null;
}

/** Something that a group was asked for and did not hand in. */
interface NotHandedIn {
  /** Path of the recording, or the condition in words. */
  readonly about: string;
  readonly quantities: readonly SubmittedQuantity[];
}

/** What a group handed in, with what there is to say of it. */
export interface MarkedGroup extends HandedIn {
  readonly marked: readonly MarkedRow[];
  readonly missing: readonly NotHandedIn[];
}

/** What values are held against. */
export interface FactsSource {
  /** Of a recording; or one sentence why there are none. */
  readonly measured: (path: string) => Promise<MeasuredFacts | string>;
  readonly predicted: (condition: Condition) => PredictedFacts | null;
}

/**
 * Holds everything that a group handed in against its own recordings and conditions.
 *
 * @param recordings all of the folder
 * @param onProgress told how many rows are done
 */
export async function markGroup(
  submission: HandedIn,
  experiment: Experiment,
  recordings: readonly KnownRecording[],
  facts: FactsSource,
  onProgress: (done: number) => void = () => undefined,
): Promise<MarkedGroup> {
  const marked: MarkedRow[] = [];
  for (const placed of submission.rows) {
    marked.push(await markRow(placed, experiment, facts));
    onProgress(marked.length);
  }
  return { ...submission, marked, missing: notHandedIn(submission, experiment, recordings) };
}

async function markRow(placed: PlacedRow, { marking }: Experiment, facts: FactsSource): Promise<MarkedRow> {
  const { recording, condition, row } = placed;
  const wanted = row.values.some(({ quantity }) => partOf(quantity) === 'measured');
  const found = recording === null || !wanted ? null : await facts.measured(recording);
  const measured = typeof found === 'string' ? null : found;
  const predicted = condition === null ? null : facts.predicted(condition);
  const assessment = assessSubmission({ measured, predicted }, row.values, marking.tolerance);
  const trouble =
    typeof found === 'string'
      ? found
      : wanted && recording === null
        ? 'The row names no recording, so its measured values cannot be held against one.'
        : null;
  return { placed, assessment, trouble };
}

/** What was asked for: measured values of each recording of the group, predicted ones once for each condition. */
function notHandedIn(
  { group, rows }: HandedIn,
  { marking, groups }: Experiment,
  recordings: readonly KnownRecording[],
): NotHandedIn[] {
  const own = recordings.filter(({ place }) => place.group === group);
  const measured = marking.asked.filter((quantity) => partOf(quantity) === 'measured');
  const predicted = marking.asked.filter((quantity) => partOf(quantity) === 'predicted');
  // A guest has no recordings of its own: what it handed in is what it was asked for.
  const paths = entryOf(groups, group) === undefined ? [] : own.map(({ path }) => path);
  const has = (found: readonly PlacedRow[], quantity: SubmittedQuantity) =>
    found.some(({ row }) => row.values.some((value) => value.quantity === quantity));
  const lacking = (about: string, found: readonly PlacedRow[], asked: readonly SubmittedQuantity[]) => {
    const quantities = asked.filter((quantity) => !has(found, quantity));
    return quantities.length === 0 ? [] : [{ about, quantities }];
  };
  const conditions = new Map<string, Condition>();
  for (const { place } of own) {
    if (place.body === null || place.flow === null) continue;
    const condition = { body: place.body, flow: place.flow };
    conditions.set(conditionName(condition), condition);
  }
  return [
    ...paths.flatMap((path) =>
      lacking(
        path,
        rows.filter(({ recording }) => recording === path),
        measured,
      ),
    ),
    ...[...conditions].flatMap(([name, { body, flow }]) => {
      const found = rows.filter(({ condition }) => condition?.body === body && condition.flow === flow);
      return lacking(name, found, predicted);
    }),
  ];
}

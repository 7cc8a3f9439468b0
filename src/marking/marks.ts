import type { AssessedValue } from '../class/index.ts';
import type { Experiment, SubmittedQuantity } from '../experiment/index.ts';
import type { TextTable } from './blank-sheet.ts';
import type { FeedbackInput } from './feedback.ts';

/** What a group's submission comes to, for the table of marks. */
export interface MarkedInput extends FeedbackInput {
  /** Path of the sheet that counts. */
  readonly file: string;
}

/**
 * The table of marks: a row a group, by its code. For each criterion of the rubric there is a column to fill in, and where
 * the criterion names quantities, one with the points that their values suggest.
 *
 * @param groups those that handed something in
 * @param others groups of the experiment that did not
 */
export function marksTable(
  experiment: Experiment,
  groups: readonly MarkedInput[],
  others: readonly string[],
): TextTable {
  const { rubric } = experiment.marking;
  const columns = [
    'group',
    'section',
    'handed_in',
    'values',
    'within',
    'follows',
    'look_again',
    'cannot_tell',
    'missing',
    'slips',
    'roster',
    'notes',
    ...rubric.flatMap(({ code, of, points }) => [
      ...(of.length === 0 ? [] : [`${code}_suggested`]),
      `${code}_of_${points}`,
    ]),
  ];
  const rows = groups.map((one) => {
    const values = one.marked.flatMap(({ assessment }) => assessment.values);
    const count = (state: AssessedValue['state']) => {
      return String(values.filter((value) => value.state === state).length);
    };
    return [
      one.group,
      experiment.groups[one.group]?.section ?? '',
      one.file,
      String(values.length),
      count('within'),
      count('follows'),
      count('outside'),
      count('cannot-tell'),
      String(one.missing.reduce((sum, { quantities }) => sum + quantities.length, 0)),
      slipsOf(one).join(' '),
      [...new Set(one.marked.flatMap(({ placed }) => placed.flags.map(({ code }) => code)))].join(' '),
      [...new Set(one.marked.flatMap(({ placed }) => placed.row.note || []))].join('; '),
      ...rubric.flatMap(({ of, points }) => [
        ...(of.length === 0 ? [] : [suggestedPoints(one, of, points)]),
        '',
      ]),
    ];
  });
  const absent = others.map((group) => [
    group,
    experiment.groups[group]?.section ?? '',
    'nothing',
    ...columns.slice(3).map(() => ''),
  ]);
  return { columns, rows: [...rows, ...absent] };
}

/** Codes of the slips by the most probable explanation, each once, in the order in which they turn up. */
function slipsOf({ marked }: FeedbackInput): string[] {
  const codes = marked.flatMap(({ assessment }) => assessment.values.flatMap(({ slips }) => slips));
  return [...new Set(codes)].filter((code) => !code.startsWith('from-own-'));
}

/**
 * Points that values suggest: the share of those that are within the tolerance, or follow from a slip that was counted
 * already, in this row or in one before, so that one slip costs once. What is missing earns nothing; what cannot be held
 * against anything is left out.
 */
function suggestedPoints(
  { marked, missing }: FeedbackInput,
  of: readonly SubmittedQuantity[],
  points: number,
): string {
  const borne = new Set<string>();
  let earned = 0;
  let all = 0;
  for (const { assessment } of marked) {
    for (const { quantity, state, slips } of assessment.values) {
      const known = slips.length > 0 && slips.every((code) => borne.has(code));
      for (const code of slips) borne.add(code);
      if (!of.includes(quantity) || state === 'cannot-tell') continue;
      all += 1;
      if (state !== 'outside' || known) earned += 1;
    }
  }
  for (const { quantities } of missing) all += quantities.filter((one) => of.includes(one)).length;
  return all === 0 ? '' : String(Math.round((points * earned * 10) / all) / 10);
}

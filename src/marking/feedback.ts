import { type AssessedValue, type Assessment, quantityWords } from '../class/index.ts';
import {
  conditionName,
  type Experiment,
  type SubmittedQuantity,
  toleranceWords,
} from '../experiment/index.ts';
import { formatSignificant, fromSI, parseQuantity, trueMinus, withUnit } from '../quantity/index.ts';
import { columnOf } from './columns.ts';
import { type FeedbackName, feedbackTexts, slipTextPrefix } from './feedback-texts.ts';
import type { PlacedRow } from './placed-rows.ts';
import { asPlainMarkdown, fillTemplate, parseTemplate, type Template, TemplateError } from './template.ts';

/** The texts that feedback is put together from, taken apart. */
export interface FeedbackTemplates {
  readonly texts: ReadonlyMap<FeedbackName, Template>;
  /** The instructor's own words on a slip, by its code. */
  readonly slips: ReadonlyMap<string, string>;
}

/** What a group handed in, with what there is to say of it. */
export interface FeedbackInput {
  readonly group: string;
  readonly experiment: Experiment;
  readonly marked: readonly {
    readonly placed: PlacedRow;
    readonly assessment: Assessment;
    readonly trouble: string | null;
  }[];
  readonly missing: readonly {
    readonly about: string;
    readonly quantities: readonly SubmittedQuantity[];
  }[];
}

/**
 * The texts of the feedback: those of the instructor where there are any, else the usual ones.
 *
 * @param own by name without its ending, as they lie in `feedback/`
 * @throws TemplateError where one holds a place that nobody fills, or is none of those that are used
 */
export function feedbackTemplates(own: ReadonlyMap<string, string>): FeedbackTemplates {
  for (const name of own.keys()) {
    const known = feedbackTexts.some((one) => one.name === name) || name.startsWith(slipTextPrefix);
    if (known) continue;
    const names = feedbackTexts.map((one) => `${one.name}.md`).join(', ');
    throw new TemplateError(
      `feedback/${name}.md`,
      1,
      'no text of this name is used',
      `call it one of ${names}, or ${slipTextPrefix}<code>.md`,
    );
  }
  const texts = feedbackTexts.map(({ name, usual, places }) => {
    const text = own.get(name) ?? usual;
    return [name, parseTemplate(text, `feedback/${name}.md`, Object.keys(places))] as const;
  });
  const slips = [...own].flatMap(([name, text]) => {
    return name.startsWith(slipTextPrefix) ? [[name.slice(slipTextPrefix.length), text.trim()] as const] : [];
  });
  return { texts: new Map(texts), slips: new Map(slips) };
}

/** The feedback of one group, as Markdown. What comes from its sheet is plain words in it. */
export function feedbackOf(input: FeedbackInput, templates: FeedbackTemplates): string {
  const fill = (name: FeedbackName, values: Readonly<Record<string, string>>) => {
    const template = templates.texts.get(name);
    return template === undefined ? '' : fillTemplate(template, values);
  };
  const { experiment, group, marked, missing } = input;
  const rows = marked.map(({ placed, assessment, trouble }) =>
    fill('recording', {
      recording: asPlainMarkdown(aboutWords(placed)),
      trouble: trouble === null ? '' : asPlainMarkdown(trouble),
      values: assessment.values
        .map((value) => fill(value.state, valuePlaces(value, placed, experiment)))
        .join(''),
      explanation: asPlainMarkdown(assessment.sentences.join(' ')),
      advice: adviceFor(assessment, templates),
    }).trim(),
  );
  return `${fill('feedback', {
    course: asPlainMarkdown(experiment.course ?? 'Experiment'),
    group: asPlainMarkdown(group),
    summary: summaryWords(input),
    recordings: rows.join('\n\n'),
    missing: missingTogether(missing)
      .map(({ about, quantities }) =>
        fill('not-handed-in', {
          about: about.map(asPlainMarkdown).join(', '),
          quantities: quantities.map((one) => quantityWords[one]).join(', '),
        }),
      )
      .join(''),
    rubric: experiment.marking.rubric
      .map(({ code, points, words }) =>
        fill('criterion', { code, points: String(points), words: asPlainMarkdown(words) }),
      )
      .join(''),
  }).trim()}\n`;
}

/** What a row is about, in words: its recording, else its condition. */
export function aboutWords({ recording, condition }: PlacedRow): string {
  return recording ?? (condition === null ? 'no recording' : conditionName(condition));
}

function valuePlaces(
  value: AssessedValue,
  { row }: PlacedRow,
  { marking }: Experiment,
): Readonly<Record<string, string>> {
  const { quantity, expected, percent } = value;
  const written = row.values.find((one) => one.quantity === quantity)?.written ?? '';
  return {
    quantity: quantityWords[quantity],
    submitted: asPlainMarkdown(written),
    recomputed: expected === null ? '' : trueMinus(valueWords(quantity, expected)),
    difference: percent === null ? '' : signedPercent(percent),
    tolerance: toleranceWords(marking.tolerance[quantity]),
  };
}

/** What is missing, with recordings and conditions that lack the same together. */
export function missingTogether(missing: FeedbackInput['missing']): readonly {
  readonly about: readonly string[];
  readonly quantities: readonly SubmittedQuantity[];
}[] {
  const together = new Map<string, { about: string[]; quantities: readonly SubmittedQuantity[] }>();
  for (const { about, quantities } of missing) {
    const key = quantities.join(' ');
    const before = together.get(key);
    if (before === undefined) together.set(key, { about: [about], quantities });
    else before.about.push(about);
  }
  return [...together.values()];
}

/** A value in the unit of its column, to four figures, or two for an uncertainty. */
export function valueWords(quantity: SubmittedQuantity, value: number): string {
  const { unit, dimension } = columnOf(quantity);
  const figures = quantity.endsWith('uncertainty') ? 2 : 4;
  const parsed = unit === '' ? null : parseQuantity(`1 ${unit}`, dimension);
  if (parsed === null || !parsed.ok) return formatSignificant(value, figures);
  return withUnit(formatSignificant(fromSI(value, parsed.unit), figures), parsed.unit.symbol);
}

/** A difference in percent with its sign; what is beyond all percentages is said as a factor elsewhere. */
export function signedPercent(percent: number): string {
  const size = Math.abs(percent);
  const number = size < 10 ? formatSignificant(percent, 2) : formatSignificant(percent, size < 1e4 ? 3 : 2);
  return trueMinus(`${percent > 0 ? '+' : ''}${number} %`);
}

/** The instructor's own words on the slips of the most probable explanation of each part. */
function adviceFor({ explanations }: Assessment, { slips }: FeedbackTemplates): string {
  const best = (['measured', 'predicted'] as const).flatMap((part) => {
    return explanations.find((one) => one.part === part)?.codes ?? [];
  });
  return [...new Set(best)].flatMap((code) => slips.get(code) ?? []).join('\n\n');
}

function summaryWords({ marked, missing }: FeedbackInput): string {
  const values = marked.flatMap(({ assessment }) => assessment.values);
  const count = (state: AssessedValue['state']) => values.filter((one) => one.state === state).length;
  const of = (number: number, words: string) => (number === 0 ? [] : [`${number} ${words}`]);
  const parts = [
    ...of(count('within'), 'within the tolerance'),
    ...of(count('follows'), 'right given an earlier value'),
    ...of(count('outside'), 'to look at again'),
    ...of(count('cannot-tell'), 'that nothing here can be held against'),
  ];
  const lacking = missing.length === 0 ? '' : ' Some of what was asked for is missing; see below.';
  if (values.length === 0) return `No value was handed in.${lacking}`;
  return `${values.length} ${values.length === 1 ? 'value was' : 'values were'} handed in: ${parts.join(', ')}.${lacking}`;
}

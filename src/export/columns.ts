import { verdictWords } from '../analysis/index.ts';
import type { EstimateMethod } from '../decay/index.ts';
import { entryOf } from '../experiment/index.ts';
import type { ExportedTrial, ResultsInput } from './types.ts';

/** What a cell holds; null where there is nothing to say. */
export type Cell = string | number | boolean | null;

interface EveryColumn {
  /** Lower case, words by underscores. */
  readonly name: string;
  /** SI, by its symbol; null for what has none, 1 for a ratio. */
  readonly unit: string | null;
  readonly meaning: string;
  /** Where the value is taken from, as the objects of the program name it. */
  readonly source: string;
}

interface TextColumn extends EveryColumn {
  readonly type: 'string';
  /** All that it can say, where that is a closed list. */
  readonly oneOf?: readonly string[];
  readonly of: (trial: ExportedTrial, input: ResultsInput) => string | null;
}

interface NumberColumn extends EveryColumn {
  readonly type: 'number' | 'integer';
  readonly of: (trial: ExportedTrial, input: ResultsInput) => number | null;
}

interface TruthColumn extends EveryColumn {
  readonly type: 'boolean';
  readonly of: (trial: ExportedTrial, input: ResultsInput) => boolean | null;
}

/** A column of the results, with what there is to know about it. */
export type Column = TextColumn | NumberColumn | TruthColumn;

const whichTrial: readonly Column[] = [
  {
    name: 'recording',
    type: 'string',
    unit: null,
    meaning: 'Path of the recording from the experiment folder, with / between its parts.',
    source: 'summary.path',
    of: ({ summary }) => summary.path,
  },
  {
    name: 'section',
    type: 'string',
    unit: null,
    meaning: 'Code of the section.',
    source: 'summary.place.section',
    of: ({ summary }) => summary.place.section,
  },
  {
    name: 'group',
    type: 'string',
    unit: null,
    meaning: 'Code of the group.',
    source: 'summary.place.group',
    of: ({ summary }) => summary.place.group,
  },
  {
    name: 'bench',
    type: 'string',
    unit: null,
    meaning: 'Code of the bench.',
    source: 'summary.place.bench',
    of: ({ summary }) => summary.place.bench,
  },
  {
    name: 'body',
    type: 'string',
    unit: null,
    meaning: 'Code of the body, as in the experiment file.',
    source: 'summary.place.body',
    of: ({ summary }) => summary.place.body,
  },
  {
    name: 'material',
    type: 'string',
    unit: null,
    meaning: 'Material of the body.',
    source: 'experiment.bodies',
    of: (trial, input) => bodyOf(trial, input)?.material?.material.name ?? null,
  },
  {
    name: 'diameter',
    type: 'number',
    unit: 'm',
    meaning: 'Diameter of the body.',
    source: 'experiment.bodies',
    of: (trial, input) => bodyOf(trial, input)?.diameter?.value ?? null,
  },
  {
    name: 'flow',
    type: 'string',
    unit: null,
    meaning: 'Code of the flow setting, as in the experiment file.',
    source: 'summary.place.flow',
    of: ({ summary }) => summary.place.flow,
  },
  {
    name: 'repeat',
    type: 'integer',
    unit: null,
    meaning: 'Number of the repeat of this condition.',
    source: 'summary.place.repeat',
    of: ({ summary }) => summary.place.repeat,
  },
];

const whatCameOfIt: readonly Column[] = [
  {
    name: 'state',
    type: 'string',
    unit: null,
    meaning: 'Whether the recording was analyzed, waits for it, or cannot be read.',
    source: 'summary.state',
    oneOf: ['waiting', 'analyzed', 'unreadable'],
    of: ({ summary }) => summary.state,
  },
  {
    name: 'verdict',
    type: 'string',
    unit: null,
    meaning: 'What the analysis says about the recording.',
    source: 'summary.verdict',
    oneOf: Object.keys(verdictWords),
    of: ({ summary }) => summary.verdict,
  },
  {
    name: 'counts',
    type: 'boolean',
    unit: null,
    meaning: 'Whether the trial counts among the results of its condition.',
    source: 'comparison.left',
    of: (trial, input) => whyNot(trial, input) === null && trial.summary.timeConstant !== null,
  },
  {
    name: 'why_not',
    type: 'string',
    unit: null,
    meaning: 'Why it does not count; empty where it does.',
    source: 'comparison.left',
    of: whyNot,
  },
  {
    name: 'remarks',
    type: 'string',
    unit: null,
    meaning: 'Codes of the cautions and of what asks for a repeat, with blanks between them.',
    source: 'summary.codes',
    of: ({ summary }) => (summary.codes.length === 0 ? null : summary.codes.join(' ')),
  },
  {
    name: 'decided',
    type: 'boolean',
    unit: null,
    meaning: 'Whether a person moved its marks or took it out.',
    source: 'summary.decided',
    of: ({ summary }) => summary.decided,
  },
  {
    name: 'rejected',
    type: 'boolean',
    unit: null,
    meaning: 'Whether a person took it out.',
    source: 'summary.rejected',
    of: ({ summary }) => summary.rejected,
  },
  {
    name: 'copy_of',
    type: 'string',
    unit: null,
    meaning: 'The recording that it is a copy of, byte for byte; empty where it is none.',
    source: 'summary.copyOf',
    of: ({ summary }) => summary.copyOf,
  },
];

const timeConstant: readonly Column[] = [
  {
    name: 'time_constant',
    type: 'number',
    unit: 's',
    meaning: 'First-order time constant of the cooling.',
    source: 'summary.timeConstant.value',
    of: ({ summary }) => summary.timeConstant?.value ?? null,
  },
  {
    name: 'time_constant_u',
    type: 'number',
    unit: 's',
    meaning: 'Standard uncertainty of the time constant, all sources of its budget together.',
    source: 'summary.timeConstant.standardUncertainty',
    of: ({ summary }) => summary.timeConstant?.standardUncertainty ?? null,
  },
  {
    name: 'time_constant_low',
    type: 'number',
    unit: 's',
    meaning: 'Lower end of the coverage interval of the time constant.',
    source: 'summary.timeConstant.interval',
    of: ({ summary }) => summary.timeConstant?.interval[0] ?? null,
  },
  {
    name: 'time_constant_high',
    type: 'number',
    unit: 's',
    meaning: 'Upper end of the coverage interval of the time constant.',
    source: 'summary.timeConstant.interval',
    of: ({ summary }) => summary.timeConstant?.interval[1] ?? null,
  },
  {
    name: 'coverage',
    type: 'number',
    unit: '1',
    meaning: 'Coverage probability of that interval.',
    source: 'summary.timeConstant.coverage',
    of: ({ summary }) => summary.timeConstant?.coverage ?? null,
  },
  {
    name: 'degrees_of_freedom',
    type: 'number',
    unit: '1',
    meaning: 'Effective degrees of freedom of the standard uncertainty.',
    source: 'summary.timeConstant.degreesOfFreedom',
    of: ({ summary }) => summary.timeConstant?.degreesOfFreedom ?? null,
  },
  {
    name: 'method',
    type: 'string',
    unit: null,
    meaning: 'Estimate that the time constant is.',
    source: 'summary.timeConstant.method',
    oneOf: ['exponential-fit', 'point-36.8', 'log-linear-origin', 'log-linear-intercept'],
    of: ({ summary }) => summary.timeConstant?.method ?? null,
  },
];

/** The columns of one of the estimates that are held beside the fit. */
function estimateColumns(name: string, method: EstimateMethod, words: string, printed: boolean): Column[] {
  const estimate = ({ detail }: ExportedTrial) => detail?.estimates.find((one) => one.method === method);
  const columns: Column[] = [
    {
      name,
      type: 'number',
      unit: 's',
      meaning: `Time constant ${words}, from block means and the fitted start.`,
      source: `detail.estimates, ${method}`,
      of: (trial) => estimate(trial)?.value ?? null,
    },
    {
      name: `${name}_u`,
      type: 'number',
      unit: 's',
      meaning: `Standard uncertainty of the time constant ${words}, with the noise as it is.`,
      source: `detail.estimates, ${method}`,
      of: (trial) => estimate(trial)?.standardUncertainty ?? null,
    },
    {
      name: `${name}_as_taught`,
      type: 'number',
      unit: 's',
      meaning: `Time constant ${words} as a class takes it: from single readings and the hottest of them.`,
      source: `detail.estimates, ${method}, classroom`,
      of: (trial) => estimate(trial)?.classroom?.value ?? null,
    },
  ];
  if (!printed) return columns;
  columns.push({
    name: `${name}_as_taught_se`,
    type: 'number',
    unit: 's',
    meaning: `Standard error that a class prints beside it; too small, because it takes the readings as independent.`,
    source: `detail.estimates, ${method}, classroom`,
    of: (trial) => estimate(trial)?.classroom?.standardError ?? null,
  });
  return columns;
}

const otherEstimates: readonly Column[] = [
  ...estimateColumns('tau_point', 'point-36.8', 'by the 36.8 % point', false),
  ...estimateColumns('tau_origin', 'log-linear-origin', 'by the regression of ln through the origin', true),
  ...estimateColumns(
    'tau_intercept',
    'log-linear-intercept',
    'by the regression of ln with an intercept',
    true,
  ),
];

const circumstances: readonly Column[] = [
  {
    name: 'ambient',
    type: 'number',
    unit: '°C',
    meaning: 'Temperature to which the body cooled.',
    source: 'detail.ambient.value',
    of: ({ detail }) => detail?.ambient?.value ?? null,
  },
  {
    name: 'ambient_u',
    type: 'number',
    unit: 'K',
    meaning: 'Standard uncertainty of that temperature.',
    source: 'detail.ambient.standardUncertainty',
    of: ({ detail }) => detail?.ambient?.standardUncertainty ?? null,
  },
  {
    name: 'end_fraction',
    type: 'number',
    unit: '1',
    meaning: 'Error fraction at the end of the cooling.',
    source: 'detail.endFraction',
    of: ({ detail }) => detail?.endFraction ?? null,
  },
  {
    name: 'first_order',
    type: 'boolean',
    unit: null,
    meaning: 'Whether the cooling is one exponential as far as it can be told; empty where it cannot.',
    source: 'detail.adequacy.firstOrder',
    of: ({ detail }) => detail?.adequacy?.firstOrder ?? null,
  },
  {
    name: 'predicted',
    type: 'number',
    unit: 's',
    meaning: 'Time constant that theory expects of this body in this flow.',
    source: 'detail.prediction.timeConstant',
    of: ({ detail }) => detail?.prediction?.timeConstant ?? null,
  },
  {
    name: 'predicted_low',
    type: 'number',
    unit: 's',
    meaning: 'Lower end of the 95 % interval of that prediction.',
    source: 'detail.prediction.interval',
    of: ({ detail }) => detail?.prediction?.interval[0] ?? null,
  },
  {
    name: 'predicted_high',
    type: 'number',
    unit: 's',
    meaning: 'Upper end of the 95 % interval of that prediction; empty where it has none.',
    source: 'detail.prediction.interval',
    of: ({ detail }) => detail?.prediction?.interval[1] ?? null,
  },
  {
    name: 'started_at',
    type: 'string',
    unit: null,
    meaning: 'When the recording was started, as its file says, local time by the logger.',
    source: 'summary.startedAt',
    of: ({ summary }) => summary.startedAt,
  },
  {
    name: 'duration',
    type: 'number',
    unit: 's',
    meaning: 'Length of the recording.',
    source: 'summary.duration',
    of: ({ summary }) => summary.duration,
  },
  {
    name: 'rate',
    type: 'number',
    unit: 'Hz',
    meaning: 'Sampling rate.',
    source: 'detail.read.rate',
    of: ({ detail }) => detail?.read.rate ?? null,
  },
  {
    name: 'samples',
    type: 'integer',
    unit: null,
    meaning: 'Readings in the recording.',
    source: 'detail.read.samples',
    of: ({ detail }) => detail?.read.samples ?? null,
  },
  {
    name: 'sha256',
    type: 'string',
    unit: null,
    meaning: 'SHA-256 of the file of the recording, hexadecimal.',
    source: 'detail.file.sha256',
    of: ({ detail }) => detail?.file.sha256 ?? null,
  },
];

/** The columns of the results, in their order; without names of persons. */
export const resultColumns: readonly Column[] = [
  ...whichTrial,
  ...whatCameOfIt,
  ...timeConstant,
  ...otherEstimates,
  ...circumstances,
];

const nameColumn: Column = {
  name: 'name',
  type: 'string',
  unit: null,
  meaning: 'Name of the group, from the list that was given.',
  source: 'names',
  of: ({ summary }, { names }) => names?.get(summary.place.group ?? '') ?? null,
};

/** The columns for these results: with names behind the codes of groups where a list of names was given. */
export function columnsOf({ names }: Pick<ResultsInput, 'names'>): readonly Column[] {
  if (names === null) return resultColumns;
  return resultColumns.flatMap((column) => (column.name === 'group' ? [column, nameColumn] : [column]));
}

function bodyOf({ summary }: ExportedTrial, { experiment }: ResultsInput) {
  const { body } = summary.place;
  return body === null ? undefined : entryOf(experiment.bodies, body);
}

function whyNot({ summary }: ExportedTrial, { comparison }: ResultsInput): string | null {
  return comparison.left.find(({ path }) => path === summary.path)?.why ?? null;
}

import {
  conditionName,
  type Experiment,
  entryOf,
  type PlannedCondition,
  type SessionPlan,
} from '../experiment/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import type { Block, DocumentTable, Report, Text } from './document.ts';
import { madeBy, type Origin } from './origin.ts';

/** What a bench sheet is made from. */
export interface BenchSheetInput {
  readonly experiment: Experiment;
  readonly plan: SessionPlan;
  readonly origin: Origin;
  /** Whether it says which time constants are expected, and the times that follow from them; it does where left out. */
  readonly expected?: boolean;
}

/**
 * One page for the bench, in black and white: what is done in which order, how the rig is set, what to wait for, and
 * blanks for everything that the files do not hold, so that a session survives the loss of a computer.
 */
export function benchSheet({ experiment, plan, origin, expected = true }: BenchSheetInput): Report {
  return {
    title: `Bench sheet: ${origin.course}`,
    subtitle: null,
    foot: madeBy(origin, expected ? 'times by the expected time constants' : 'times as they are planned'),
    density: 'dense',
    blocks: [
      { kind: 'table', table: whoTable },
      ...cautionBlocks(plan),
      { kind: 'heading', level: 1, text: 'Before the first trial' },
      { kind: 'list', ordered: true, items: beforeItems(experiment, plan) },
      { kind: 'table', table: readingsTable(experiment) },
      ...diameterTable(experiment),
      { kind: 'heading', level: 1, text: 'Each trial' },
      { kind: 'list', ordered: true, items: trialItems(experiment) },
      { kind: 'heading', level: 1, text: 'Trials, in this order' },
      { kind: 'table', table: expected ? runTable(experiment, plan) : plainRunTable(experiment, plan) },
      ...leftOut(plan),
    ],
  };
}

/** In one box, said to those at the bench. */
function cautionBlocks({ cautions }: SessionPlan): Block[] {
  if (cautions.length === 0) return [];
  const said = cautions.map(({ message, action }) => {
    const told = action.replace(/^Tell the class: /, '');
    return `${message} ${told.charAt(0).toUpperCase()}${told.slice(1)}`;
  });
  return [{ kind: 'caution', text: said.join(' ') }];
}

const whoTable: DocumentTable = {
  caption: null,
  columns: [
    { title: 'Group code', align: 'start', share: 1 },
    { title: 'Bench', align: 'start', share: 1 },
    { title: 'Date', align: 'start', share: 1 },
    { title: 'Begun at', align: 'start', share: 1 },
    { title: 'Initials', align: 'start', share: 2 },
  ],
  rows: [['', '', '', '', '']],
  byHand: true,
};

function beforeItems({ sensor, meter, supply, logger }: Experiment, { timeLine }: SessionPlan): Text[] {
  const items: Text[] = [];
  const ice = timeLine.stretches.find(({ kind }) => kind === 'ice-bath');
  if (sensor.junction === 'ice') {
    const early = ice === undefined ? 30 : Math.round((ice.to - ice.from) / 60);
    items.push(
      `Pack the ice bath ${early} min before it is used: crushed ice to the top, meltwater drawn off.`,
    );
  }
  items.push(
    'Look over cords, hoses and couplings. Eye protection on, sleeves and hair back, nothing that burns near.',
  );
  if (timeLine.stretches.some(({ kind }) => kind === 'zeroing')) {
    items.push('Short the amplifier’s input and log its zero for a minute; note the file name below.');
  }
  if (logger?.rate !== undefined)
    items.push(`Logger at ${Number(logger.rate.toPrecision(4))} readings a second.`);
  if (meter !== undefined || supply?.pressure !== undefined) {
    items.push(
      'Open the valve slowly; note the pressure in the meter while the air flows, and in the supply.',
    );
  }
  return items;
}

function readingsTable({ sensor }: Experiment): DocumentTable {
  const names = [
    'Room temperature / °C',
    'Room pressure / kPa',
    'Supply pressure / bar',
    'Meter pressure / bar',
    'Jet, no heat / °C',
    ...(sensor.junction === 'ice' ? ['Ice bath / °C'] : []),
    'Zero / mV, and file',
  ];
  const rows: Text[][] = [];
  for (let i = 0; i < names.length; i += 3) {
    rows.push([0, 1, 2].flatMap((k) => [names[i + k] ?? '', '']));
  }
  return {
    caption: null,
    columns: [0, 1, 2].flatMap((): DocumentTable['columns'] => [
      { title: 'Read', align: 'start', share: 3 },
      { title: 'Value', align: 'start', share: 2 },
    ]),
    rows,
    byHand: true,
  };
}

/** A blank for the diameter of each body that has one. */
function diameterTable({ bodies }: Experiment): Block[] {
  const codes = Object.keys(bodies).slice(0, mostDiameters);
  if (codes.length === 0) return [];
  const columns = ['Diameter / mm', ...codes].map((title) => ({ title, align: 'start' as const, share: 1 }));
  return [{ kind: 'table', table: { caption: null, columns, rows: [columns.map(() => '')], byHand: true } }];
}

/** More columns would be too narrow to write into. */
const mostDiameters = 7;

function trialItems({ protocol }: Experiment): Text[] {
  const { target, limit } = protocol;
  const end = protocol['end-fraction'];
  return [
    `Start the logger; log at least ${Math.round(protocol.baseline)} s of baseline with the body at rest in the air of the trial.`,
    `Heat ${target === undefined ? 'as the table says' : `to ${degrees(target)} °C, or to the body’s own target`}${
      limit === undefined ? '' : `, never above ${degrees(limit)} °C`
    }; watch the reading, keep the hot air off people and cords.`,
    'Take the heat away at once and whole, with the jet running; touch nothing until the trial is over. The body stays hot for minutes.',
    `Log until an error fraction of ${end} is left: that is ${formatSignificant(-Math.log(end), 2)} time constants after the heat went off.`,
    'Save under the name in the table; look at the trace before the next trial; write down what was unusual.',
  ];
}

function runTable(experiment: Experiment, plan: SessionPlan): DocumentTable {
  return {
    caption:
      'Heating and cooling times follow from the time constants τ that are expected; the body itself decides.',
    columns: [
      { title: 'at', align: 'end' },
      { title: 'body', align: 'start' },
      { title: 'meter shows', align: 'start' },
      { title: 'no.', align: 'end' },
      { title: 'heat / s', align: 'end' },
      { title: 'to / °C', align: 'end' },
      { title: 'cool / s', align: 'end' },
      { title: 'τ / s', align: 'end' },
      ...writtenColumns,
    ],
    rows: plannedTrials(experiment, plan).map(({ at, body, flow, repeat, target, planned }) => [
      at,
      body,
      flow,
      repeat,
      `${Math.round(planned.trial.heating)}`,
      target,
      `${Math.round(planned.trial.cooling)}`,
      formatSignificant(planned.timeConstant.value, 2),
      ...writtenColumns.map(() => ''),
    ]),
    byHand: true,
  };
}

/** The same for those who are to find out the time constants: the reading says when to go on, not a planned time. */
function plainRunTable(experiment: Experiment, plan: SessionPlan): DocumentTable {
  const end = experiment.protocol['end-fraction'];
  return {
    caption: `Heat until the reading is at the target; let it cool until ${formatSignificant(end, 2)} of the step is left. Times are of the first trial of each condition.`,
    columns: [
      { title: 'at', align: 'end' },
      { title: 'body', align: 'start' },
      { title: 'meter shows', align: 'start' },
      { title: 'no.', align: 'end' },
      { title: 'to / °C', align: 'end' },
      ...writtenColumns,
    ],
    rows: plannedTrials(experiment, plan).map(({ at, body, flow, repeat, target }) => [
      // From one trial to the next is a number of time constants.
      repeat === '1' ? at : '',
      body,
      flow,
      repeat,
      target,
      ...writtenColumns.map(() => ''),
    ]),
    byHand: true,
  };
}

const writtenColumns: DocumentTable['columns'] = [
  { title: 'begun', align: 'start', share: 3 },
  { title: 'file', align: 'start', share: 4 },
  { title: 'remarks', align: 'start', share: 6 },
];

/** A trial of the plan as it stands in a table. */
interface PlannedTrial {
  readonly at: string;
  readonly body: string;
  readonly flow: string;
  readonly repeat: string;
  readonly target: string;
  readonly planned: PlannedCondition;
}

function plannedTrials(experiment: Experiment, { conditions, timeLine }: SessionPlan): PlannedTrial[] {
  const starts = startsOf(experiment);
  const trials = timeLine.stretches.filter(({ kind }) => kind === 'baseline');
  return trials.flatMap(({ condition, repeat, from }) => {
    const planned = conditions.find((one) => condition !== null && sameCondition(one, condition));
    if (condition === null || planned === undefined) return [];
    const flow = flowWords(experiment, condition.flow);
    const target = targetWords(experiment, condition.body);
    return [{ at: starts(from), body: condition.body, flow, repeat: String(repeat ?? ''), target, planned }];
  });
}

function sameCondition(one: PlannedCondition, condition: PlannedCondition['condition']): boolean {
  return conditionName(one.condition) === conditionName(condition);
}

/** Minutes of the session, or the time of day where the session has a start. */
function startsOf({ session }: Experiment): (seconds: number) => string {
  const [hours, minutes] = (session.start ?? '').split(':').map(Number);
  if (hours === undefined || minutes === undefined) return (from) => `${Math.round(from / 60)} min`;
  return (from) => {
    const at = hours * 60 + minutes + Math.round(from / 60);
    return `${Math.floor(at / 60) % 24}:${String(at % 60).padStart(2, '0')}`;
  };
}

function flowWords({ flows }: Experiment, code: string): string {
  const setting = entryOf(flows, code);
  if (setting === undefined) return code;
  const shown = setting.written.split(/\s*(?:\+-|±)/)[0] ?? setting.written;
  return setting.kind === 'still' ? 'still air' : shown;
}

function targetWords({ protocol, bodies }: Experiment, code: string): string {
  const target = entryOf(bodies, code)?.target ?? protocol.target;
  return target === undefined ? '' : degrees(target);
}

/** As one sets it: no digits that nobody asked for. */
function degrees(value: number): string {
  return String(Number(value.toPrecision(4)));
}

function leftOut({ timeLine, leftOut, unplanned }: SessionPlan): Block[] {
  const items: Text[] = [
    ...timeLine.notFitting.map((one) => `${conditionName(one)}: does not fit into the session`),
    ...leftOut.map((one) => `${conditionName(one)}: ${one.why}`),
    ...unplanned.map(({ condition, message }) => `${conditionName(condition)}: ${message}`),
  ];
  if (items.length === 0) return [];
  return [
    { kind: 'heading', level: 1, text: 'Not in this session' },
    { kind: 'list', ordered: false, items },
  ];
}

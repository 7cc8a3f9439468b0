import type { Experiment } from '../experiment/index.ts';
import type { PredictionInput } from '../prediction/index.ts';
import type { BenchReadings, BenchTrial } from './bench-types.ts';
import { groupPrediction } from './group-prediction.ts';
import { groupSheet } from './group-sheet.ts';
import {
  type GroupSlip,
  type GroupSlipName,
  goodPrediction,
  goodSheet,
  groupSlips,
  type PredictionPlan,
  type SheetPlan,
} from './group-slips.ts';
import type { GroupHabits, GroupTask } from './group-task.ts';
import { type Draws, drawsFor } from './labelled-draws.ts';

/** Columns of a sheet in its order, with their unit. */
export const sheetColumns = [
  'time constant at 36.8 % / s',
  'time constant through origin / s',
  'time constant with intercept / s',
  'standard uncertainty of time constant / s',
  'expanded uncertainty of time constant / s',
  'Reynolds number',
  'Nusselt number',
  'heat transfer coefficient / W/(m2 K)',
  'predicted time constant / s',
  'Biot number',
  'standard uncertainty of prediction / s',
  'expanded uncertainty of prediction / s',
] as const;

/** A column of a sheet. */
type SheetColumn = (typeof sheetColumns)[number];

/** A row of a group's sheet, as it is written, and the slips in it. */
export interface HandedIn {
  readonly slips: readonly GroupSlipName[];
  readonly cells: Readonly<Partial<Record<SheetColumn, string>>>;
}

const isSlip = (name: string): name is GroupSlipName => name in groupSlips;
const slipNames = Object.keys(groupSlips).filter(isSlip);

/** Three groups in five make no slip; one in ten makes two (common practice, no source). */
const rightShare = 0.6;
const pairShare = 0.1;
/** Bodies that follow a stream so quickly stand hot in it, and show no peak. */
const quick = 5;

/**
 * What a group has before it and how it works.
 *
 * @param slips null to draw them for the group, as a class makes them
 * @param expected time constant, s
 */
export function groupTask(
  experiment: Experiment,
  about: {
    readonly seed: string;
    readonly group: string;
    readonly input: PredictionInput;
    readonly trial: BenchTrial;
    readonly expected: number;
    readonly slips: readonly GroupSlipName[] | null;
  },
): GroupTask {
  const { seed, group, input, trial, expected } = about;
  const { prediction, room } = experiment;
  const habits = habitsOf(drawsFor(seed, 'habits', group), expected);
  const accuracy = { relative: prediction.accuracy, coverageFactor: prediction['coverage-factor'] };
  const known = { input, accuracy, habits, room: room?.temperature.value ?? null };
  const slips = about.slips ?? drawSlips(drawsFor(seed, 'slips', group));
  return { ...known, slips: slips.filter((name) => isPossible(name, known, trial)) };
}

function habitsOf(draws: Draws, expected: number): GroupHabits {
  const rows = [300, 1000, 3000, 10_000, 100_000][draws.index(5)] ?? 1000;
  return {
    rows,
    upper: draws.between(0.88, 0.92),
    lower: draws.between(0.09, 0.12),
    fromKnee: draws.between(0, 1) < 0.3 || expected < quick,
    firstBelow: draws.between(0, 1) < 0.4,
    baseline: draws.between(4, 12),
    figures: draws.between(0, 1) < 0.5 ? 3 : 4,
  };
}

function drawSlips(draws: Draws): GroupSlipName[] {
  const share = draws.between(0, 1);
  const count = share < rightShare ? 0 : share < 1 - pairShare ? 1 : 2;
  return draws.shuffled(slipNames).slice(0, count);
}

/** Whether a slip can be made at this bench. */
function isPossible(name: GroupSlipName, task: Omit<GroupTask, 'slips'>, trial: BenchTrial): boolean {
  const { needs }: GroupSlip = groupSlips[name];
  const { flow } = task.input;
  const meter = flow.kind === 'jet' && flow.meter.kind === 'variable-area' ? flow.meter : null;
  const { output } = trial.chain;
  if (needs === 'room') return task.room !== null;
  if (needs === 'volts') return output.kind === 'volts';
  if (needs === 'volts of another type') return output.kind === 'volts' && output.type === 'T';
  if (needs === 'accuracy') return task.accuracy.coverageFactor > 1;
  if (needs === 'gauge') return meter !== null && 'gaugePressure' in meter.line.pressure;
  return needs === undefined || meter !== null;
}

/**
 * The row that a group hands in about a recording: worked by its own arithmetic, with its slips, and rounded as it
 * writes. Empty cells are what comes to nothing.
 */
export function handedIn(
  readings: BenchReadings,
  { slips, habits, input, accuracy, room }: GroupTask,
): HandedIn {
  const made = slips.map((name): GroupSlip => groupSlips[name]);
  let sheetPlan: SheetPlan = goodSheet;
  let predictionPlan: PredictionPlan = goodPrediction;
  for (const { sheet: change, prediction: other } of made) {
    sheetPlan = { ...sheetPlan, ...change };
    predictionPlan = { ...predictionPlan, ...other };
  }
  const sheet = groupSheet(readings, sheetPlan, habits, room);
  const prediction = groupPrediction(input, predictionPlan, accuracy);
  const numbers: readonly (readonly [number | null | undefined, number])[] = [
    [sheet.point, habits.figures],
    [sheet.origin, habits.figures],
    [sheet.intercept, habits.figures],
    [sheet.standard, 2],
    [sheet.expanded, 2],
    [prediction?.reynolds, 3],
    [prediction?.nusselt, 3],
    [prediction?.coefficient, 3],
    [prediction?.timeConstant, 3],
    [prediction?.biot, 2],
    [prediction?.standard, 2],
    [prediction?.expanded, 2],
  ];
  const cells: Partial<Record<SheetColumn, string>> = {};
  numbers.forEach(([value, figures], i) => {
    const column = sheetColumns[i];
    if (
      column !== undefined &&
      value !== null &&
      value !== undefined &&
      Number.isFinite(value) &&
      value !== 0
    ) {
      cells[column] = written(value, figures);
    }
  });
  return { slips, cells };
}

/** With so many figures, and without powers of ten as far as a sheet has none. */
function written(value: number, figures: number): string {
  const rounded = Number(value.toPrecision(figures));
  const decimals = Math.max(0, figures - 1 - Math.floor(Math.log10(Math.abs(rounded))));
  return decimals > 12 ? rounded.toExponential(figures - 1) : rounded.toFixed(decimals);
}

/** What of a key a sheet is made from. */
interface HandedInRow {
  readonly path: string;
  readonly group: string;
  readonly handedIn: HandedIn | null;
}

/** The sheets of all groups as CSV, by path below the experiment folder: a row for each recording that was worked on. */
export function groupSheets(rows: readonly HandedInRow[]): ReadonlyMap<string, string> {
  const lines = new Map<string, string[][]>();
  for (const { group, path, handedIn: row } of rows) {
    if (row === null) continue;
    const own = lines.get(group) ?? [['group', 'recording', ...sheetColumns]];
    own.push([group, path, ...sheetColumns.map((column) => row.cells[column] ?? '')]);
    lines.set(group, own);
  }
  return new Map(
    [...lines].map(([group, own]) => {
      const text = own.map((line) => line.map(quoted).join(',')).join('\n');
      return [`submissions/${group}.csv`, `${text}\n`];
    }),
  );
}

function quoted(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

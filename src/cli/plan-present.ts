import {
  conditionName,
  type DesignSource,
  type Experiment,
  type PlannedCondition,
  type SessionPlan,
  type Stretch,
} from '../experiment/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

interface Planned {
  readonly path: string;
  readonly experiment: Experiment;
  readonly plan: SessionPlan;
}

/** A plan for a person: lines of at most 80 columns but for the path. */
export function presentPlan({ path, experiment, plan }: Planned, ink: Ink): string[] {
  return [
    ink.strong(printable(path)),
    ...verdictLines(plan, ink),
    '',
    ...conditionTable(plan, experiment, ink),
    ...unplannedLines(plan, ink),
    ...leftOutLines(plan),
    '',
    ...timeLineTable(plan, experiment, ink),
    '',
    ...mendLines(plan, ink),
    ...adviceLines(plan, ink),
    '',
    ...cautionLines(plan, ink),
    '',
  ];
}

function verdictLines({ timeLine, length, neededAtMost, conditions }: SessionPlan, ink: Ink): string[] {
  if (conditions.length === 0) return entry('session', 'There is nothing to plan.');
  const needed = `all conditions need ${minutesUp(timeLine.needed)} by the expected time constants`;
  const slow = Number.isFinite(neededAtMost)
    ? `, ${minutesUp(neededAtMost)} if all lie at the upper end of their intervals`
    : ', without bound if they lie at the upper end of their intervals';
  if (length === null) return entry('session', `No length is stated; ${needed}${slow}.`);
  const fits = timeLine.notFitting.length === 0;
  const verdict = fits
    ? 'everything fits'
    : `${timeLine.notFitting.length} of ${conditions.length} conditions ${timeLine.notFitting.length === 1 ? 'does' : 'do'} not fit`;
  const lines = entry('session', `${verdict}: of ${minutes(length)}, ${needed}${slow}.`);
  return lines.map((line, i) => {
    if (i > 0) return line;
    return line.replace(verdict, fits ? ink.strong(verdict) : ink.warm(ink.strong(verdict)));
  });
}

const nameWidth = 21;
const head = `  ${'condition, in run order'.padEnd(nameWidth + 3)}tau s    95 % within  heat  cool  back  trial   u(tau)`;

function conditionTable({ conditions }: SessionPlan, experiment: Experiment, ink: Ink): string[] {
  if (conditions.length === 0) return [];
  const limits = [...new Set(conditions.map(({ design }) => design.limitedBy))];
  const limitText = limits
    .map((limit) => {
      const own = conditions.filter(({ design }) => design.limitedBy === limit);
      const where =
        limits.length === 1 ? 'all conditions' : listed(own.map(({ condition }) => conditionName(condition)));
      return `${limitWords[limit]} (${where})`;
    })
    .join('; ');
  return [
    ink.faint(head),
    ...conditions.flatMap((one) => conditionRow(one)),
    ...entry(
      'times',
      `in s: heating, cooling to an error fraction of ${experiment.protocol['end-fraction']}, and back, counted from the end of the cooling, to within ${experiment.protocol['ambient-offset']} K of ambient for the next baseline; a trial is baseline (${Math.round(experiment.protocol.baseline)} s), heating, cooling and change-over.`,
    ),
    ...entry(
      'u(tau)',
      `standard uncertainty that one trial can reach, without what differs from trial to trial. What limits it: ${limitText}.`,
    ),
  ];
}

const limitWords: Readonly<Record<DesignSource, string>> = {
  noise: 'noise of the readings',
  ambient: 'the ambient in the jet',
  drift: 'drift of the zero',
  resolution: 'steps of the converter',
  'time-base': 'clock of the logger',
  chain: 'the sensor chain, whose scale may be bent within its tolerance; it is common to all trials',
};

function conditionRow({
  condition,
  timeConstant,
  predicted,
  rig,
  trial,
  trialTime,
  design,
}: PlannedCondition) {
  const row = [
    `  ${shortened(conditionName(condition), nameWidth).padEnd(nameWidth)}`,
    figures(timeConstant.value).padStart(7),
    within(timeConstant.interval).padStart(14),
    whole(trial.heating).padStart(5),
    whole(trial.cooling).padStart(5),
    whole(trial.settling).padStart(5),
    whole(trialTime).padStart(6),
    `${formatSignificant(100 * design.relative, 2)} %`.padStart(8),
  ].join(' ');
  const theory = `theory expects ${figures(predicted.value)} s, ${within(predicted.interval)}`;
  const byRig = rig === null ? '' : `the rig ${figures(rig.value)} s, ${within(rig.interval)}`;
  switch (timeConstant.source) {
    case 'measured':
      return [row, `      measured; ${theory}`, ...(rig === null ? [] : [`      and ${byRig}`])];
    case 'rig':
      return [row, `      by the rig's own correlation; ${theory}`];
    case 'theory':
      return rig === null ? [row] : [row, `      by theory; less sure is ${byRig}`];
  }
}

function within([low, high]: readonly [number, number]): string {
  return Number.isFinite(high) ? `${figures(low)} to ${figures(high)}` : `from ${figures(low)}`;
}

function unplannedLines({ unplanned }: SessionPlan, ink: Ink): string[] {
  const reasons = new Map<string, string[]>();
  for (const { condition, message } of unplanned) {
    reasons.set(message, [...(reasons.get(message) ?? []), conditionName(condition)]);
  }
  return [...reasons].flatMap(([message, conditions]) => {
    const [first = '', ...rest] = entry('no plan', `${listed(conditions)}: ${printable(message)}`);
    return [first.replace('no plan', ink.warm('no plan')), ...rest];
  });
}

/** Most conditions that one sentence lists. */
const mostListed = 12;

function listed(conditions: readonly string[]): string {
  const more = conditions.length - mostListed;
  return `${conditions.slice(0, mostListed).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

/** Most conditions that are listed as left out. */
const mostLeftOut = 20;

function leftOutLines({ leftOut }: SessionPlan): string[] {
  return leftOut.slice(0, mostLeftOut).flatMap((one, i) => {
    return entry(i === 0 ? 'left out' : '', `${conditionName(one)}: ${printable(one.why)}`);
  });
}

function timeLineTable({ timeLine, conditions }: SessionPlan, experiment: Experiment, ink: Ink): string[] {
  if (conditions.length === 0) return [];
  const { start } = experiment.session;
  const rows = rowsOf(timeLine.stretches).map(
    ({ from, text }) => `  ${clock(from, start).padStart(6)}  ${text}`,
  );
  const missing = timeLine.notFitting.map(conditionName);
  return [
    ink.faint(
      `  time line of one bench, ${start === undefined ? 'h:mm from the first minute' : 'time of day'}`,
    ),
    ...rows,
    ...missingLines(missing, ink),
  ];
}

function missingLines(missing: readonly string[], ink: Ink): string[] {
  if (missing.length === 0) return [];
  const [first = '', ...rest] = entry('not fitting', listed(missing), 15);
  return ['', first.replace('not fitting', ink.warm('not fitting')), ...rest];
}

interface Row {
  readonly from: number;
  readonly text: string;
}

/** One row for each condition, not for each stretch of its trials. */
function rowsOf(stretches: readonly Stretch[]): Row[] {
  const rows: Row[] = [];
  const seen = new Set<string>();
  for (const { kind, from, to, condition } of stretches) {
    if (condition === null) {
      rows.push({
        from,
        text: `${stretchWords[kind]}${kind === 'reserve' || kind === 'spare' || kind === 'settling' ? ` (${minutes(to - from)})` : ''}`,
      });
      continue;
    }
    const name = conditionName(condition);
    if (seen.has(name)) continue;
    seen.add(name);
    const own = stretches.filter((one) => one.condition === condition);
    const trials = Math.max(...own.map(({ repeat }) => repeat ?? 0));
    const end = Math.max(...own.map((one) => one.to));
    rows.push({
      from,
      text: `${shortened(name, 44)}: ${trials} ${trials === 1 ? 'trial' : 'trials'} in ${minutes(end - from)}`,
    });
  }
  return rows;
}

const stretchWords: Readonly<Record<Stretch['kind'], string>> = {
  'ice-bath': 'make the ice bath of crushed ice, well packed; let it stand',
  'set-up': 'set up',
  zeroing: 'short the input of the amplifier and log its zero',
  'change-over': 'change body or flow',
  baseline: 'baseline',
  heating: 'heating',
  cooling: 'cooling',
  settling: 'let the body return to ambient',
  spare: 'spare',
  reserve: 'reserve',
};

/** `0:45` from the first minute, `-0:15` before it, or the time of day. */
function clock(seconds: number, start: string | undefined): string {
  const [hours = 0, minutesOfHour = 0] = (start ?? '0:0').split(':').map(Number);
  const offset = start === undefined ? 0 : 60 * hours + minutesOfHour;
  const minute = Math.floor(seconds / 60) + offset;
  const day = 24 * 60;
  const shown = start === undefined ? Math.abs(minute) : ((minute % day) + day) % day;
  const sign = start === undefined && minute < 0 ? '-' : '';
  return `${sign}${Math.floor(shown / 60)}:${String(shown % 60).padStart(2, '0')}`;
}

function mendLines({ mends }: SessionPlan, ink: Ink): string[] {
  if (mends.length === 0) return [];
  return [
    ...mends.flatMap(({ message, fits }, i) => {
      const lines = entry(i === 0 ? 'to fit' : '', `${fits ? '*' : '-'} ${message}`);
      return lines.map((line, j) =>
        j === 0 && i === 0 ? line.replace('to fit', ink.strong('to fit')) : line,
      );
    }),
    '',
  ];
}

function adviceLines({ advice }: SessionPlan, ink: Ink): string[] {
  return advice.flatMap(({ about, severity, message }) => {
    const label = about.replace('-', ' ');
    const [first = '', ...rest] = entry(
      label,
      `${severity === 'caution' ? 'caution: ' : ''}${printable(message)}`,
    );
    return [severity === 'note' ? first : first.replace('caution', ink.warm('caution')), ...rest];
  });
}

function cautionLines({ cautions }: SessionPlan, ink: Ink): string[] {
  return cautions.flatMap(({ message, action, code }) => {
    const [first = '', ...rest] = entry('safety', `${printable(message)} ${printable(action)} [${code}]`);
    return [first.replace('safety', ink.warm('safety')), ...rest];
  });
}

function figures(value: number): string {
  return formatSignificant(value, 3);
}

function whole(seconds: number): string {
  return seconds < 9.95 ? formatSignificant(seconds, 2) : String(Math.round(seconds));
}

function minutes(seconds: number): string {
  const value = seconds / 60;
  return `${value < 10 ? Number(value.toFixed(1)) : value.toFixed(0)} min`;
}

/** What has to fit is rounded up: rounded down it would seem to. */
function minutesUp(seconds: number): string {
  const value = seconds / 60;
  return `${value < 10 ? Number((Math.ceil(10 * value - 1e-6) / 10).toFixed(1)) : Math.ceil(value - 1e-6)} min`;
}

function shortened(text: string, width: number): string {
  return text.length <= width ? text : `${text.slice(0, width - 1)}…`;
}

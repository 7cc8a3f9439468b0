/** The table of what to expect, as texts. */
import { conditionName, type DesignSource, type PlannedCondition } from '../../../src/experiment/index.ts';
import { type Prediction, parameterWords } from '../../../src/prediction/index.ts';
import { formatSignificant } from '../../../src/quantity/index.ts';
import type { Outcome } from './outcome.ts';

/** A number with what it was before the changes; null where it is the same. */
export interface Shown {
  readonly now: string;
  readonly was: string | null;
}

export interface ExpectedRow {
  readonly name: string;
  readonly body: string;
  readonly flow: string;
  /** Why nothing can be predicted; null where it can. */
  readonly trouble: string | null;
  /** Whether it fits into the session; null where that is not known. */
  readonly fits: boolean | null;
  readonly cells: Readonly<Record<Column, Shown>>;
}

const columns = [
  'timeConstant',
  'within',
  'measured',
  'rig',
  'speed',
  'reynolds',
  'nusselt',
  'coefficient',
  'biot',
  'trial',
  'uncertainty',
] as const;
export type Column = (typeof columns)[number];

/** Columns that have something to say: what was measured, or what the rig expects, only where the session is planned by it. */
export function columnsOf({ plan }: Outcome): readonly Column[] {
  const some = (of: 'measured' | 'rig') => plan.conditions.some((one) => one[of] !== null);
  return columns.filter((column) => (column !== 'measured' && column !== 'rig') || some(column));
}

/** Heads of the columns, in the order of `columns`, each with its unit. */
export const heads: Readonly<Record<Column, string>> = {
  timeConstant: 'tau in s',
  within: '95 % within',
  measured: 'measured in s',
  rig: 'by the rig in s',
  speed: 'air in m/s',
  reynolds: 'Re',
  nusselt: 'Nu',
  coefficient: 'h in W/(m²·K)',
  biot: 'Bi (V/A)',
  trial: 'one trial in s',
  uncertainty: 'u(tau), one trial',
};

/** Rows in the order of the file; `before` is what the file on disk leads to. */
export function expectedRows(outcome: Outcome, before: Outcome | null): readonly ExpectedRow[] {
  return [...outcome.predicted].map(([name, one]) => {
    const now = textsOf(outcome, name);
    const then = before === null ? null : textsOf(before, name);
    const cells = Object.fromEntries(
      columns.map((column) => {
        const was = then?.[column] ?? null;
        return [column, { now: now[column], was: was === now[column] ? null : was }];
      }),
    ) as Record<Column, Shown>;
    const planned = plannedOf(outcome, name);
    const fits = planned === undefined || outcome.plan.length === null ? null : isFitting(outcome, name);
    return {
      name,
      body: one.condition.body,
      flow: one.condition.flow,
      trouble: one.ok ? null : one.message,
      fits,
      cells,
    };
  });
}

function isFitting({ plan }: Outcome, name: string): boolean {
  return plan.timeLine.fitting.some((one) => conditionName(one) === name);
}

function plannedOf({ plan }: Outcome, name: string): PlannedCondition | undefined {
  return plan.conditions.find(({ condition }) => conditionName(condition) === name);
}

function textsOf(outcome: Outcome, name: string): Record<Column, string> {
  const one = outcome.predicted.get(name);
  const planned = plannedOf(outcome, name);
  const prediction = one?.ok === true ? one.prediction : null;
  const of = (pick: (p: Prediction) => number, figures: number) =>
    prediction === null ? '' : formatSignificant(pick(prediction), figures);
  return {
    timeConstant: of((p) => p.timeConstant.value, 3),
    within: prediction === null ? '' : withinWords(prediction.timeConstant.interval),
    measured: planned?.measured ? formatSignificant(planned.measured.value, 3) : '',
    rig: planned?.rig ? formatSignificant(planned.rig.value, 3) : '',
    speed: of((p) => p.velocity, 3),
    reynolds: of((p) => p.reynolds, 3),
    nusselt: of((p) => p.nusselt, 3),
    coefficient: of((p) => p.heatTransferCoefficient.total, 3),
    biot: of((p) => p.biot.volumeToArea, 2),
    trial: planned === undefined ? '' : String(Math.round(planned.trialTime)),
    uncertainty: planned === undefined ? '' : `${formatSignificant(100 * planned.design.relative, 2)} %`,
  };
}

function withinWords([low, high]: readonly [number, number]): string {
  const from = formatSignificant(low, 3);
  return Number.isFinite(high) ? `${from} to ${formatSignificant(high, 3)}` : `from ${from}`;
}

const limitWords: Readonly<Record<DesignSource, string>> = {
  noise: 'noise of the readings',
  ambient: 'the ambient in the jet',
  drift: 'drift of the zero',
  resolution: 'steps of the converter',
  'time-base': 'clock of the logger',
  chain: 'the sensor chain, whose scale may be bent within its tolerance',
};

/** What limits the uncertainty of a trial, in a sentence for all conditions. */
export function limitSentence({ plan }: Outcome): string {
  const limits = [...new Set(plan.conditions.map(({ design }) => design.limitedBy))];
  if (limits.length === 0) return '';
  const said = limits.map((limit) => {
    if (limits.length === 1) return limitWords[limit];
    const own = plan.conditions.filter(({ design }) => design.limitedBy === limit);
    return `${limitWords[limit]} (${own.map(({ condition }) => conditionName(condition)).join(', ')})`;
  });
  return `What limits it: ${said.join('; ')}.`;
}

/** Shares below this are not worth a word. */
const worthAWord = 0.02;

export interface Dominance {
  readonly body: string;
  /** Shares of h: `convection 93 to 94 %, wires 5 to 6 %`. */
  readonly heat: string;
  /** Shares of the variance of tau: `correlation 93 to 95 %`. */
  readonly uncertainty: string;
}

/** What makes h and what makes the ± of tau, a line a body over its flows. */
export function dominances({ predicted }: Outcome): readonly Dominance[] {
  const byBody = new Map<string, Prediction[]>();
  for (const one of predicted.values()) {
    if (one.ok) byBody.set(one.condition.body, [...(byBody.get(one.condition.body) ?? []), one.prediction]);
  }
  return [...byBody].map(([body, own]) => ({
    body,
    heat: heatWords(own),
    uncertainty: shareWords(own),
  }));
}

function heatWords(own: readonly Prediction[]): string {
  const parts = [
    ['convection', 'convection'],
    ['radiation', 'radiation'],
    ['stem', 'wires'],
  ] as const;
  return parts
    .map(([part, word]) => ({
      word,
      shares: own.map(({ heatTransferCoefficient: h }) => h[part] / h.total),
    }))
    .filter(({ shares }) => Math.max(...shares) >= 0.005)
    .map(({ word, shares }) => `${word} ${percentRange(shares)}`)
    .join(', ');
}

function shareWords(own: readonly Prediction[]): string {
  const names = [...new Set(own.flatMap(({ budget }) => budget.map(({ input }) => input)))];
  return names
    .map((name) => ({
      name,
      shares: own.map(({ budget }) => budget.find(({ input }) => input === name)?.share ?? 0),
    }))
    .filter(({ shares }) => Math.max(...shares) >= worthAWord)
    .sort((a, b) => Math.max(...b.shares) - Math.max(...a.shares))
    .slice(0, 3)
    .map(({ name, shares }) => `${parameterWords.get(name) ?? name} ${percentRange(shares)}`)
    .join(', ');
}

function percentRange(shares: readonly number[]): string {
  const [low = '', high = ''] = [Math.min(...shares), Math.max(...shares)].map((share) => {
    const percent = 100 * share;
    return percent > 0 && percent < 0.5 ? '< 1' : percent.toFixed(0);
  });
  return low === high ? `${low} %` : `${low} to ${high} %`;
}

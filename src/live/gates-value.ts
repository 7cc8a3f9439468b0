import { compareCondition, type ExpectedTimeConstant } from '../experiment/index.ts';
import { coverageFactor, type Interval, usualCoverage } from '../quantity/index.ts';
import type { ExpectedBody } from './body-expected.ts';
import { type BodyLikeness, bodyLikeness } from './body-likeness.ts';
import { gate } from './gate.ts';
import { figures } from './gate-words.ts';
import type { Gate, LiveTimeConstant } from './types.ts';

/** What a time constant is held against. Times in s. */
export interface ValueGateFacts {
  readonly timeConstant: LiveTimeConstant | null;
  /** Whether another gate already says that the time constant is none, or of a wrong clock. */
  readonly doubtful: boolean;
  /** By theory alone; null where there is no prediction. */
  readonly predicted: ExpectedTimeConstant | null;
  /** Codes of what the trial is said to be of; null where nobody says. */
  readonly body: string | null;
  readonly flow: string | null;
  /** What each body of the rig would show on this bench; see `expectedBodies`. */
  readonly bodies: readonly ExpectedBody[];
}

/**
 * A body is called another where the time constant is this many times as likely with the other: strong evidence by
 * Kass and Raftery (1995, Bayes Factors, J. Am. Stat. Assoc. 90, 773, table in 3.2). Their positive evidence begins at
 * the second.
 */
const strong = 20;
const positive = 3;
/** A body that lies further off than this, in standard uncertainties, is none of those that are known. */
const unlike = 3.3;
/** Alternatives that are so much less likely than the best are not worth a word. */
const worthNaming = 1 / 5;

/** Gates on the value: `time-constant-plausible`, `body-plausible`. Each is left out where there is nothing to hold it against. */
export function valueGates(facts: ValueGateFacts): Gate[] {
  const comparable = facts.doubtful ? { ...facts, timeConstant: null } : facts;
  return [...timeConstantPlausible(comparable), ...bodyPlausible(comparable)];
}

function isNamed({ body, flow }: ValueGateFacts, one: { body: string; flow: string }): boolean {
  return one.body === body && one.flow === flow;
}

function timeConstantPlausible(facts: ValueGateFacts): Gate[] {
  const named = facts.bodies.find((one) => isNamed(facts, one));
  if (named !== undefined && named.runs > 0) return [againstEarlier(facts, named)];
  return facts.predicted === null ? [] : [againstTheory(facts, facts.predicted)];
}

function untold({ doubtful }: ValueGateFacts): string {
  return doubtful
    ? 'The time constant is not compared, for what another gate says of this trial makes it meaningless.'
    : 'The cooling does not say the time constant yet.';
}

const lookAtRig = 'Look whether body, flow and jet are as they are named before the next trial.';

function againstTheory(facts: ValueGateFacts, predicted: ExpectedTimeConstant): Gate {
  const found = facts.timeConstant;
  const base = { code: 'time-constant-plausible', source: 'theory', unit: 's' } as const;
  if (found === null)
    return gate({ ...base, value: null, limit: null, state: 'open', message: untold(facts) });
  const { verdict, sentence } = compareCondition(found, predicted);
  const limit = facing(found.value, predicted.value, predicted.interval);
  const numbers = { ...base, value: found.value, limit };
  if (verdict !== 'disagree') return gate({ ...numbers, state: 'met', message: sentence });
  return gate({ ...numbers, state: 'missed', message: sentence, mend: lookAtRig });
}

function againstEarlier(facts: ValueGateFacts, named: ExpectedBody): Gate {
  const { timeConstant, body } = facts;
  const base = { code: 'time-constant-plausible', source: 'earlier-trials', unit: 's' } as const;
  if (timeConstant === null)
    return gate({ ...base, value: null, limit: null, state: 'open', message: untold(facts) });
  const { value } = timeConstant;
  const reach = coverageFactor(Number.POSITIVE_INFINITY, usualCoverage);
  const factor = Math.exp(reach * Math.hypot(named.relative, logUncertainty(timeConstant)));
  const interval: Interval = [named.expected / factor, named.expected * factor];
  const numbers = { ...base, value, limit: facing(value, named.expected, interval) };
  const trials = named.runs === 1 ? 'one earlier trial' : `${named.runs} earlier trials`;
  const message = `The time constant of ${figures(value)} s lies ${
    value >= interval[0] && value <= interval[1] ? 'within' : 'outside'
  } the ${figures(interval[0])} to ${figures(interval[1])} s that ${trials} of ${body} let expect.`;
  if (value >= interval[0] && value <= interval[1]) return gate({ ...numbers, state: 'met', message });
  return gate({ ...numbers, state: 'missed', message, mend: lookAtRig });
}

/** The end of an interval on the side of a value. */
function facing(value: number, middle: number, [low, high]: Interval): number {
  return value >= middle ? high : low;
}

/** Standard uncertainty of ln tau, at least as wide as the coverage interval makes it for few degrees of freedom. */
function logUncertainty({ value, standardUncertainty, interval: [low, high] }: LiveTimeConstant): number {
  const half = Math.log(high / low) / 2 / coverageFactor(Number.POSITIVE_INFINITY, usualCoverage);
  return Math.max(standardUncertainty / value, Number.isFinite(half) ? half : 0);
}

function bodyPlausible(facts: ValueGateFacts): Gate[] {
  const { timeConstant, bodies } = facts;
  if (!bodies.some((one) => isNamed(facts, one)) || bodies.length < 2) return [];
  const base = { code: 'body-plausible', source: 'statistics', limit: 1 / strong, unit: '1' } as const;
  if (timeConstant === null) return [gate({ ...base, value: null, state: 'open', message: untold(facts) })];
  const { value } = timeConstant;
  const alike = bodyLikeness({ value, relative: logUncertainty(timeConstant) }, bodies);
  const [best] = alike;
  const named = alike.find((one) => isNamed(facts, one));
  if (best === undefined || named === undefined) return [];
  const ratio = Math.exp(named.logLikelihood - best.logLikelihood);
  const numbers = { ...base, value: ratio };
  const shown = `${figures(value)} s`;
  if (Math.abs(best.score) > unlike) {
    return [
      gate({
        ...numbers,
        state: 'missed',
        message: `A time constant of ${shown} looks like no body of the rig: ${named.body} would show about ${figures(named.expected)} s.`,
        mend: 'Look which body is in the jet, whether the jet is on, and what the logger is set to.',
      }),
    ];
  }
  const others = inWords(
    facts,
    alike.filter((one) => one !== named),
  );
  if (ratio < 1 / strong) {
    return [
      gate({
        ...numbers,
        state: 'missed',
        message: `A time constant of ${shown} does not look like ${named.body}, which would show about ${figures(named.expected)} s, but like ${others}.`,
        mend: `Look whether body and flow are ${named.body} and ${named.flow}; if they are not, give the recording their true names.`,
      }),
    ];
  }
  if (ratio < 1 / positive) {
    return [
      gate({
        ...numbers,
        state: 'open',
        message: `A time constant of ${shown} looks more like ${others} than like ${named.body}, but it may be either.`,
        mend: 'Look which body is in the jet.',
      }),
    ];
  }
  const rivals = alike.filter((one) => one !== named && one.share > named.share * worthNaming);
  const besides = rivals.length === 0 ? '' : `, though it cannot be told from ${inWords(facts, rivals)}`;
  return [
    gate({
      ...numbers,
      state: 'met',
      message: `A time constant of ${shown} looks like ${named.body}${besides}.`,
    }),
  ];
}

/** The likeliest bodies, and the flow where it is not the one that was named. */
function inWords({ flow }: ValueGateFacts, alike: readonly BodyLikeness[]): string {
  const best = alike[0]?.share ?? 0;
  const names = alike
    .filter(({ share }) => share >= best * worthNaming)
    .slice(0, 3)
    .map(
      (one) =>
        `${one.body}${one.flow === flow ? '' : ` in flow ${one.flow}`} (about ${figures(one.expected)} s)`,
    );
  return names.join(' or ');
}

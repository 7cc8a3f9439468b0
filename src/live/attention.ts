import { spokenTime } from './gate-words.ts';
import type { Gate, TrialNow } from './types.ts';

/** What is known of a bench when somebody decides where to walk next. */
export interface CalledBench {
  readonly bench: string;
  readonly trial: TrialNow | null;
  /** What is in the way of reading the file; null where nothing is. */
  readonly trouble: { readonly message: string } | null;
  /** s since the file last grew; null where there is none. */
  readonly quiet: number | null;
  /** Trials of this session that are done, the latest last. */
  readonly trials: readonly { readonly verdict: string }[];
  /** Rig checks that failed or are stale, as sentences. */
  readonly rig: readonly string[];
}

/** One bench to walk to. */
export interface BenchCall {
  readonly bench: string;
  /** Greater is more urgent: from 100 for a body that is being spoiled to 10 for what can wait. */
  readonly urgency: number;
  /** One sentence: why. */
  readonly why: string;
}

/*
 * The order of attention: what is spoiled within seconds, then what is being lost, then what costs a trial, then what
 * costs minutes. Common practice, no source.
 */
const urgency = {
  overLimit: 100,
  nearLimit: 90,
  heatOff: 80,
  stalled: 70,
  unreadable: 65,
  spoiledGoingOn: 60,
  spoiledTwice: 58,
  spoiled: 55,
  amiss: 45,
  closing: 40,
  mayStop: 35,
  rig: 20,
  idle: 10,
} as const;

/** A logger that is silent for this long in the middle of a trial has stopped, s. */
const stalledAfter = 15;
/** A bench without a trial for this long may need help, s. */
const idleAfter = 300;

/**
 * The benches that somebody should walk to, the most urgent first, each with its gravest reason. Benches at which
 * everything goes well are not among them.
 */
export function callsOf(benches: readonly CalledBench[]): BenchCall[] {
  const calls = benches.flatMap((bench) => {
    const [gravest] = reasonsOf(bench).sort((a, b) => b.urgency - a.urgency);
    return gravest === undefined ? [] : [{ bench: bench.bench, ...gravest }];
  });
  return calls.sort(
    (a, b) => b.urgency - a.urgency || a.bench.localeCompare(b.bench, 'en', { numeric: true }),
  );
}

type Reason = Omit<BenchCall, 'bench'>;

function reasonsOf(bench: CalledBench): Reason[] {
  const { trial, trouble } = bench;
  const reasons: Reason[] = trouble === null ? [] : [{ urgency: urgency.unreadable, why: trouble.message }];
  if (trial !== null) reasons.push(...trialReasons(trial, bench));
  const [check] = bench.rig;
  if (check !== undefined) reasons.push({ urgency: urgency.rig, why: check });
  const { quiet } = bench;
  const resting = trial === null || trial.phase === 'waiting' || trial.phase === 'done';
  if (resting && quiet !== null && quiet > idleAfter) {
    reasons.push({ urgency: urgency.idle, why: `Nothing was recorded for ${spokenTime(quiet)}.` });
  }
  return reasons;
}

function trialReasons(trial: TrialNow, { quiet, trials }: CalledBench): Reason[] {
  const { phase, advice, gates } = trial;
  const running = phase === 'baseline' || phase === 'heating' || phase === 'cooling';
  const limit = gates.find(({ code }) => code === 'limit-kept');
  const reasons: Reason[] = [];
  const add = (how: number, why: string) => reasons.push({ urgency: how, why });
  if (phase === 'heating' && limit?.state === 'missed') add(urgency.overLimit, said(limit));
  if (phase === 'heating' && limit?.state === 'close') add(urgency.nearLimit, said(limit));
  if (advice.action === 'heat-off') add(urgency.heatOff, advice.message);
  if (running && quiet !== null && quiet > stalledAfter) {
    add(urgency.stalled, `The file has not grown for ${spokenTime(quiet)} in the middle of the ${phase}.`);
  }
  if (advice.action === 'repeat') {
    const before = trials.at(-1)?.verdict === 'repeat';
    if (running) add(urgency.spoiledGoingOn, advice.message);
    else add(before ? urgency.spoiledTwice : urgency.spoiled, advice.message);
  }
  // Where nothing is recorded any more, they have stopped.
  const records = quiet !== null && quiet <= stalledAfter;
  if (advice.action === 'stop' && records) add(urgency.mayStop, advice.message);
  const missed = gates.find(({ state }) => state === 'missed');
  if (missed !== undefined) add(urgency.amiss, said(missed));
  const close = gates.find(({ state }) => state === 'close');
  if (close !== undefined && running) add(urgency.closing, said(close));
  return reasons;
}

function said({ message, mend }: Gate): string {
  return mend === null ? message : `${message} ${mend}`;
}

import type { Experiment } from '../experiment/index.ts';
import { type Expectation, earlierExpectation, statedExpectation } from './expectation.ts';
import { goodFor, type RigKind, rigKinds } from './kinds.ts';
import type { RigBook, RigCheck, RigStanding, RigState } from './types.ts';
import { latestOf, limitWords, passedWords, placeWords } from './words.ts';

/** What is checked: a bench, and a flow or body by its code. */
interface Checked {
  readonly bench: string | null;
  readonly subject: string | null;
}

/** Earlier checks that a new one is held against where the experiment file says nothing. */
const mostEarlier = 10;

/** The checks of a book that nobody took back. */
export function countingChecks({ checks, withdrawn }: RigBook): readonly RigCheck[] {
  if (withdrawn.length === 0) return checks;
  const gone = new Set(withdrawn.map(({ id }) => id));
  return checks.filter(({ id }) => !gone.has(id));
}

/**
 * How everything that can be checked about the rigs of an experiment stood at a moment: what the experiment file
 * describes, and what somebody checked beyond that. Later checks are left aside.
 *
 * @param checks those that count
 * @param at the moment, ms since 1970 (UTC)
 */
export function standingsOf(
  experiment: Experiment,
  checks: readonly RigCheck[],
  at: number,
): readonly RigStanding[] {
  const known = checks.filter((check) => Date.parse(check.at) <= at);
  return rigKinds.flatMap((about) => {
    const own = known.filter(({ kind }) => kind === about.kind);
    return checkedOf(experiment, about, own).map((one) =>
      inWords(experiment, about, one, judge(experiment, about, one, own, at), at),
    );
  });
}

function checkedOf(experiment: Experiment, about: RigKind, checks: readonly RigCheck[]): readonly Checked[] {
  const subjects = subjectsOf(experiment, about, checks);
  return benchesOf(experiment, about, checks).flatMap((bench) =>
    subjects.map((subject) => ({ bench, subject })),
  );
}

function benchesOf(
  { benches }: Experiment,
  { of, shared }: RigKind,
  checks: readonly RigCheck[],
): readonly (string | null)[] {
  if (of === 'body' || benches.length === 0) return [null];
  if (shared && checks.every(({ bench }) => bench === null)) return [null];
  return benches;
}

/** Codes that a kind of check is about; null alone for what belongs to the bench. Empty where nothing calls for it. */
function subjectsOf(
  experiment: Experiment,
  { kind, of }: RigKind,
  checks: readonly RigCheck[],
): readonly (string | null)[] {
  const wanted = (subject: string | null) =>
    calledFor(experiment, kind, subject) || checks.some((check) => check.subject === subject);
  if (of === 'bench') return wanted(null) ? [null] : [];
  return codesOf(experiment, of).filter(wanted);
}

/** Codes of what a kind of check can be about: bodies, or flows that move. */
export function codesOf({ bodies, flows }: Experiment, of: 'flow' | 'body'): readonly string[] {
  if (of === 'body') return Object.keys(bodies);
  return Object.entries(flows).flatMap(([code, { kind }]) => (kind === 'still' ? [] : [code]));
}

/** Whether the experiment file describes what would be checked. */
function calledFor(experiment: Experiment, kind: RigKind['kind'], subject: string | null): boolean {
  const { thermocouple, resistance, gain, zero } = experiment.sensor;
  if (kind === 'zero') return zero !== undefined || gain !== undefined;
  if (kind === 'ice-point') return thermocouple !== undefined || resistance !== undefined;
  return statedExpectation(experiment, kind, subject) !== null;
}

/** How the checks of one thing stand, before it is put into words. */
interface Judged {
  readonly check: RigCheck | null;
  readonly expectation: Expectation | null;
  /** s */
  readonly good: number;
  readonly state: RigState;
}

function judge(
  experiment: Experiment,
  about: RigKind,
  place: Checked,
  checks: readonly RigCheck[],
  at: number,
): Judged {
  const { kind } = about;
  const own = checks.filter((one) => isOf(one, place, about));
  const check = latestOf(own);
  const earlier = own.filter((one) => one !== check).slice(-mostEarlier);
  const expectation =
    statedExpectation(experiment, kind, place.subject) ??
    earlierExpectation(
      experiment,
      kind,
      earlier.map(({ value }) => value),
    );
  const good = goodFor(about.freshness, experiment.session.length);
  return { check, expectation, good, state: stateOf(check, expectation, good, at) };
}

function inWords(
  experiment: Experiment,
  about: RigKind,
  { bench, subject }: Checked,
  { check, expectation, good, state }: Judged,
  at: number,
): RigStanding {
  const { kind } = about;
  const words =
    expectation === null ? null : limitWords(experiment, kind, subject, expectation, check?.written ?? null);
  return {
    bench,
    kind,
    subject,
    state,
    check,
    expected: expectation?.expected ?? null,
    tolerance: expectation?.tolerance ?? null,
    limitWords: words,
    goodFor: good,
    source: expectation?.source ?? 'common-practice',
    message: messageOf({ place: placeWords(bench, kind, subject), state, check, words, good, at }),
    mend: mendOf(state, about),
  };
}

/** Binary fractions must not put a check outside that lies on its limit by the decimals that were typed. */
const onTheLimit = 1 + 1e-9;

function stateOf(
  check: RigCheck | null,
  expectation: Expectation | null,
  good: number,
  at: number,
): RigState {
  if (check === null) return 'missing';
  if (
    expectation !== null &&
    Math.abs(check.value - expectation.expected) > expectation.tolerance * onTheLimit
  ) {
    return 'outside';
  }
  return at - Date.parse(check.at) > good * 1000 ? 'stale' : 'in-order';
}

function messageOf({
  place,
  state,
  check,
  words,
  good,
  at,
}: {
  readonly place: string;
  readonly state: RigState;
  readonly check: RigCheck | null;
  readonly words: string | null;
  readonly good: number;
  readonly at: number;
}): string {
  if (check === null) return `${place}: not checked yet${words === null ? '' : `; it should be ${words}`}.`;
  const passed = passedWords((at - Date.parse(check.at)) / 1000);
  if (state === 'outside') return `${place}: ${check.written}; it should be ${words}.`;
  if (state === 'stale') {
    return `${place}: ${check.written} was found ${passed} before, and a check is good for ${passedWords(good)}.`;
  }
  if (words === null) return `${place}: ${check.written}; there is nothing yet to hold it against.`;
  return `${place}: ${check.written}, within ${words}.`;
}

function mendOf(state: RigState, { how, mend }: RigKind): string | null {
  if (state === 'in-order') return null;
  return state === 'outside' ? mend : how;
}

/** What a trial is of: it is about one bench, one body and one flow. */
interface TrialPlace {
  readonly bench: string | null;
  readonly body: string | null;
  readonly flow: string | null;
}

/**
 * What of the checks that concern one trial had failed by a moment, or was too old.
 *
 * @param checks those that count
 * @param at the moment, ms since 1970 (UTC)
 */
export function troubleOfTrial(
  experiment: Experiment,
  checks: readonly RigCheck[],
  { bench, body, flow }: TrialPlace,
  at: number,
): readonly RigStanding[] {
  return rigKinds.flatMap((about) => {
    const place =
      about.of === 'body'
        ? { bench: null, subject: body }
        : { bench, subject: about.of === 'flow' ? flow : null };
    const own = checks.filter((one) => one.kind === about.kind && isOf(one, place, about));
    const known = own.filter((one) => Date.parse(one.at) <= at);
    if (known.length === 0) return [];
    const judged = judge(experiment, about, place, known, at);
    // Words take longer than judgement, and most trials need none.
    const trouble = judged.state === 'outside' || judged.state === 'stale';
    return trouble ? [inWords(experiment, about, place, judged, at)] : [];
  });
}

/** Whether a check is of a place; one that all benches share is of each. */
function isOf(check: RigCheck, { bench, subject }: Checked, { shared }: RigKind): boolean {
  return check.subject === subject && (check.bench === bench || (shared && check.bench === null));
}

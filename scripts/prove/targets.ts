import { averageOf, efficiencyOf, type Rate, rateOf } from './rates.ts';
import { coverageOf, errorsOf, type Summary, type Tried } from './summary.ts';
import { numberWithin, percentWithin } from './tables.ts';

/** What was aimed at, what came out, and what that means in a word. */
export interface TargetRow {
  readonly target: string;
  readonly figure: string;
  readonly verdict: string;
}

interface Range {
  readonly low: number;
  readonly high: number;
}

/**
 * A figure inside its range is `met`; one outside is `missed`, but `missed within chance` where its 95 % interval reaches
 * into the range.
 */
export function verdictOn({ value, low, high }: Range & { readonly value: number }, wanted: Range): string {
  if (!Number.isFinite(value)) return 'not measured';
  if (value >= wanted.low && value <= wanted.high) return 'met';
  return high >= wanted.low && low <= wanted.high ? 'missed, within chance' : 'missed';
}

function worst<T>(list: readonly T[], of: (one: T) => number): T | undefined {
  return list.toSorted((a, b) => of(b) - of(a))[0];
}

/** The targets for intervals, from the scenarios that one exponential describes. */
export function intervalTargets(tried: readonly Tried[], summaries: readonly Summary[]): TargetRow[] {
  const outcomes = tried.flatMap((one) => one.outcomes);
  const coverage = coverageOf(outcomes);
  const errors = errorsOf(outcomes);
  const bias = averageOf(errors.map(({ error, uncertainty }) => error / uncertainty));
  const rows: TargetRow[] = [
    {
      target: 'Coverage of the 95 % interval, all lumped scenarios: 93 to 97 %',
      figure: `${percentWithin(coverage)} of ${coverage.of}`,
      verdict: verdictOn(coverage, { low: 0.93, high: 0.97 }),
    },
  ];
  const lowest = worst(summaries, (one) => -one.coverage.value);
  if (lowest !== undefined) {
    rows.push({
      target: 'Coverage in every lumped scenario: at least 90 %',
      figure: `lowest ${percentWithin(lowest.coverage)}, ${lowest.scenario.name}`,
      verdict: verdictOn(lowest.coverage, { low: 0.9, high: 1 }),
    });
  }
  const fifth = { low: -0.2, high: 0.2 };
  rows.push({
    target: 'Bias, all lumped scenarios: under 0.2 of the standard uncertainty',
    figure: numberWithin(bias),
    verdict: verdictOn(bias, fifth),
  });
  const most = worst(summaries, (one) => Math.abs(one.bias.value));
  if (most !== undefined) {
    const beyond = summaries.filter((one) => verdictOn(one.bias, fifth) !== 'met');
    rows.push({
      target: 'Bias in every lumped scenario: under 0.2 of the standard uncertainty',
      figure: `largest ${numberWithin(most.bias)}, ${most.scenario.name}; beyond in ${beyond.length} of ${summaries.length}`,
      verdict: verdictOn(most.bias, fifth),
    });
  }
  return [...rows, ...efficiencyTargets(errors, summaries)];
}

function efficiencyTargets(errors: ReturnType<typeof errorsOf>, summaries: readonly Summary[]): TargetRow[] {
  const bounded = errors.flatMap(({ error, bound }) => (bound === null ? [] : [{ error, bound }]));
  if (bounded.length === 0) return [];
  const kinds = [
    ['used', 'of the readings that the fit uses'],
    ['whole', 'of all readings after the heat is off'],
  ] as const;
  return kinds.flatMap(([kind, words]): TargetRow[] => {
    const all = efficiencyOf(bounded.map(({ error, bound }) => error / bound[kind]));
    const wanted = { low: 0.8, high: Number.POSITIVE_INFINITY };
    const known = summaries.flatMap(({ scenario, efficiency }) =>
      efficiency === null ? [] : [{ scenario, efficiency: efficiency[kind] }],
    );
    const least = worst(known, (one) => -one.efficiency.value);
    return [
      {
        target: `Efficiency against the bound ${words}: over 0.8`,
        figure:
          least === undefined
            ? numberWithin(all)
            : `${numberWithin(all)}; lowest ${numberWithin(least.efficiency)}, ${least.scenario.name}`,
        verdict: verdictOn(all, wanted),
      },
    ];
  });
}

/** The targets for what is said of clean recordings. */
export function cleanTargets(tried: readonly Tried[]): TargetRow[] {
  const outcomes = tried.flatMap((one) => one.outcomes);
  const alarms = rateOf(outcomes.filter(({ firstOrder }) => firstOrder === false).length, outcomes.length);
  const clean = cleanRate(tried);
  return [
    {
      target: "False alarms of 'not first-order' on lumped recordings: at most 5 %",
      figure: `${percentWithin(alarms)} of ${alarms.of}`,
      verdict: verdictOn(alarms, { low: 0, high: 0.05 }),
    },
    {
      target: 'No fault named on clean recordings: over 95 %',
      figure: `${percentWithin(clean)} of ${clean.of}`,
      verdict: verdictOn(clean, { low: 0.95, high: 1 }),
    },
  ];
}

/** How many recordings carry no caution and no call for a repeat but those that are right in their scenario. */
export function cleanRate(tried: readonly Tried[]): Rate {
  const quiet = tried.flatMap(({ scenario, outcomes }) =>
    outcomes.map(
      ({ remarks, unread }) =>
        unread === null &&
        remarks.every(({ code, severity }) => severity === 'note' || scenario.expected.includes(code)),
    ),
  );
  return rateOf(quiet.filter(Boolean).length, quiet.length);
}

/** A detection that is to be found in more than 90 % of cases. */
export function detectionTarget(target: string, { scenario, notFirstOrder }: Summary): TargetRow {
  return {
    target,
    figure: `${percentWithin(notFirstOrder)} of ${notFirstOrder.of}, ${scenario.name}`,
    verdict: verdictOn(notFirstOrder, { low: 0.9, high: 1 }),
  };
}

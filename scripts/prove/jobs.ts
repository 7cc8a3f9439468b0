import { departures, hidden } from './departures.ts';
import type { Desk } from './desk.ts';
import { faultCases, tryFault } from './fault-cases.ts';
import type { FaultOutcome } from './fault-outcome.ts';
import { forecastCases } from './forecast-cases.ts';
import { type ForecastOutcome, tryForecast } from './forecast-outcome.ts';
import type { Outcome } from './outcome.ts';
import type { Scenario } from './scenario.ts';
import { lumped } from './scenarios.ts';
import { tryRecording } from './try-recording.ts';

/** All kinds of recordings; the place in the list is part of their seeds. */
export const scenarios: readonly Scenario[] = [...lumped, ...departures, ...hidden];

/** One piece of work: some recordings of a scenario, of a fault, or of a forecast. */
export interface Job {
  readonly kind: 'scenario' | 'fault' | 'forecast';
  /** In `scenarios`, `faultCases`, or `forecastCases`. */
  readonly number: number;
  /** First recording, and how many. */
  readonly from: number;
  readonly count: number;
}

/** A piece of work that is done. */
export type Done =
  | {
      readonly kind: 'scenario';
      readonly number: number;
      readonly from: number;
      readonly outcomes: Outcome[];
    }
  | {
      readonly kind: 'fault';
      readonly number: number;
      readonly from: number;
      readonly outcomes: FaultOutcome[];
    }
  | {
      readonly kind: 'forecast';
      readonly number: number;
      readonly from: number;
      readonly outcomes: ForecastOutcome[];
    };

/** Recordings that are done at a go. */
const handful = 4;

/**
 * The work of a run, the longest first so that all workers end together.
 *
 * @param share of the recordings of a full run, 0 to 1
 * @param only takes the kinds whose names hold this text; empty for all
 */
export function jobsOf(share: number, only: string): Job[] {
  const kinds = [
    ...scenarios.map(({ name, recordings }, number) => ({
      kind: 'scenario' as const,
      number,
      name,
      recordings,
    })),
    ...faultCases.map(({ name, recordings }, number) => ({
      kind: 'fault' as const,
      number,
      name,
      recordings,
    })),
    ...forecastCases.map(({ name, recordings }, number) => ({
      kind: 'forecast' as const,
      number,
      name,
      recordings,
    })),
  ];
  return kinds
    .filter(({ name }) => name.includes(only))
    .flatMap(({ kind, number, recordings }) => {
      const wanted = Math.max(1, Math.round(share * recordings));
      const starts = Array.from({ length: Math.ceil(wanted / handful) }, (_, i) => i * handful);
      return starts.map((from): Job => ({ kind, number, from, count: Math.min(handful, wanted - from) }));
    });
}

/**
 * Does a piece of work.
 *
 * @param seed of the whole run
 */
export async function workThrough(desk: Desk, job: Job, seed: number): Promise<Done> {
  const { kind, number, from, count } = job;
  const places = Array.from({ length: count }, (_, i) => from + i);
  if (kind === 'scenario') {
    const outcomes: Outcome[] = [];
    const scenario = scenarios[number];
    if (scenario === undefined) throw new RangeError(`There is no scenario ${number}.`);
    for (const recording of places) {
      outcomes.push(await tryRecording(desk, scenario, { scenario: number, recording }, seed));
    }
    return { kind, number, from, outcomes };
  }
  if (kind === 'forecast') {
    const outcomes: ForecastOutcome[] = [];
    const scenario = forecastCases[number];
    if (scenario === undefined) throw new RangeError(`There is no forecast ${number}.`);
    for (const recording of places) {
      outcomes.push(await tryForecast(desk, scenario, { scenario: number, recording }, seed));
    }
    return { kind, number, from, outcomes };
  }
  const fault = faultCases[number];
  if (fault === undefined) throw new RangeError(`There is no fault ${number}.`);
  const outcomes: FaultOutcome[] = [];
  for (const recording of places) outcomes.push(...(await tryFault(desk, fault, recording, seed)));
  return { kind, number, from, outcomes };
}

import { faultCases } from './fault-cases.ts';
import type { FaultTried } from './fault-outcome.ts';
import { forecastCases } from './forecast-cases.ts';
import type { ForecastTried } from './forecast-outcome.ts';
import { type Done, scenarios } from './jobs.ts';
import type { Tried } from './summary.ts';

/** Everything that a run found. */
export interface Proof {
  readonly seed: number;
  readonly share: number;
  /** Kinds of which there are recordings. */
  readonly tried: readonly Tried[];
  readonly faults: readonly FaultTried[];
  readonly forecasts: readonly ForecastTried[];
}

/** Puts the pieces of a run together; they are in order. */
export function proofOf(done: readonly Done[], run: Pick<Proof, 'seed' | 'share'>): Proof {
  const tried = scenarios.map((scenario, number): Tried => {
    const own = done.flatMap((one) => (one.kind === 'scenario' && one.number === number ? one.outcomes : []));
    return { scenario, outcomes: own };
  });
  const faults = faultCases.map((fault, number): FaultTried => {
    const own = done.flatMap((one) => (one.kind === 'fault' && one.number === number ? one.outcomes : []));
    return { fault, outcomes: own };
  });
  const forecasts = forecastCases.map((scenario, number): ForecastTried => {
    const own = done.flatMap((one) => (one.kind === 'forecast' && one.number === number ? one.outcomes : []));
    return { scenario, outcomes: own };
  });
  return {
    ...run,
    tried: tried.filter(({ outcomes }) => outcomes.length > 0),
    faults: faults.filter(({ outcomes }) => outcomes.length > 0),
    forecasts: forecasts.filter(({ outcomes }) => outcomes.length > 0),
  };
}

/** Recordings in all. */
export function recordingsIn({ tried, faults, forecasts }: Proof): number {
  return [...tried, ...faults, ...forecasts].reduce((sum, { outcomes }) => sum + outcomes.length, 0);
}

import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { useLocation, useSearch } from 'wouter';
import { calls } from '../api/calls.ts';
import { keys } from '../api/queries.ts';
import type { Reckoned, Shown } from './outcome.ts';

/** Which time constants the session is planned by. The choice stands in the address: `?by=measured`. */
export interface Basis {
  readonly byMeasured: boolean;
  /** What the recordings showed; null until it is there, and where theory is asked for. */
  readonly shown: Shown | null;
  /** Conditions that some recording counts for; null until that is known. */
  readonly count: number | null;
  readonly error: unknown;
  readonly again: () => void;
  readonly choose: (byMeasured: boolean) => void;
}

/** @param byTheory what the file as it stands leads to */
export function useBasis(byTheory: Reckoned): Basis {
  const search = useSearch();
  const [, navigate] = useLocation();
  const byMeasured = new URLSearchParams(search).get('by') === 'measured';
  const { data, error, refetch } = useQuery({
    queryKey: keys.comparison,
    queryFn: calls.comparison,
    enabled: byMeasured,
  });
  const shown = useMemo<Shown | null>(() => {
    if (!byMeasured || data === undefined || !byTheory.ok) return null;
    const measured = data.conditions.map(
      ({ body, flow, measured: { value, standardUncertainty, interval } }) => {
        return { condition: { body, flow }, value, standardUncertainty, interval };
      },
    );
    return { measured, predicted: byTheory.outcome.predicted };
  }, [byMeasured, data, byTheory]);
  const choose = (next: boolean) => {
    const parameters = new URLSearchParams(search);
    if (next) parameters.set('by', 'measured');
    else parameters.delete('by');
    const text = parameters.toString();
    navigate(text === '' ? '/plan' : `/plan?${text}`, { replace: true });
  };
  return {
    byMeasured,
    shown,
    count: data === undefined ? null : data.conditions.length,
    error: byMeasured ? error : null,
    again: () => void refetch(),
    choose,
  };
}

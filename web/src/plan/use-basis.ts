import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { useLocation, useSearch } from 'wouter';
import { calls } from '../api/calls.ts';
import { keys, useRigCorrelation } from '../api/queries.ts';
import type { Reckoned, Shown } from './outcome.ts';

/** What a session can be planned by. */
export type BasisKind = 'theory' | 'measured' | 'rig';

/** Which time constants the session is planned by. The choice stands in the address: `?by=measured`, `?by=rig`. */
export interface Basis {
  readonly kind: BasisKind;
  /** What the recordings or the rig showed; null until it is there, and where theory is asked for. */
  readonly shown: Shown | null;
  /** Conditions that something is shown of; null until that is known. */
  readonly count: number | null;
  /** Why the rig has no correlation; null where it has one, or is not asked for. */
  readonly why: string | null;
  readonly error: unknown;
  readonly again: () => void;
  readonly choose: (kind: BasisKind) => void;
}

/** @param byTheory what the file as it stands leads to */
export function useBasis(byTheory: Reckoned): Basis {
  const search = useSearch();
  const [, navigate] = useLocation();
  const kind = kindOf(new URLSearchParams(search).get('by'));
  const comparison = useQuery({
    queryKey: keys.comparison,
    queryFn: calls.comparison,
    enabled: kind === 'measured',
  });
  const rig = useRigCorrelation(kind === 'rig');
  const shown = useMemo<Shown | null>(() => {
    if (!byTheory.ok) return null;
    const { predicted } = byTheory.outcome;
    if (kind === 'measured' && comparison.data !== undefined) {
      const measured = comparison.data.conditions.map(
        ({ body, flow, measured: { value, standardUncertainty, interval } }) => {
          return { condition: { body, flow }, value, standardUncertainty, interval };
        },
      );
      return { measured, rig: [], predicted };
    }
    if (kind === 'rig' && rig.data !== undefined) {
      const values = rig.data.conditions.map(({ body, flow, ...value }) => {
        return { condition: { body, flow }, ...value };
      });
      return { measured: [], rig: values, predicted };
    }
    return null;
  }, [kind, comparison.data, rig.data, byTheory]);
  const choose = (next: BasisKind) => {
    const parameters = new URLSearchParams(search);
    if (next === 'theory') parameters.delete('by');
    else parameters.set('by', next);
    const text = parameters.toString();
    navigate(text === '' ? '/plan' : `/plan?${text}`, { replace: true });
  };
  const asked = kind === 'measured' ? comparison : kind === 'rig' ? rig : null;
  return {
    kind,
    shown,
    count: asked?.data?.conditions.length ?? null,
    why: kind === 'rig' && rig.data?.ok === false ? rig.data.sentences.join(' ') : null,
    error: asked?.error ?? null,
    again: () => void asked?.refetch(),
    choose,
  };
}

function kindOf(by: string | null): BasisKind {
  return by === 'measured' || by === 'rig' ? by : 'theory';
}

import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { calls } from '../api/calls.ts';
import { keys } from '../api/queries.ts';
import { classNames, type Names, plainNames } from './names.ts';
import { useProjector } from './projector.ts';

const none = { recordings: [], unplaced: [] };

/** Names as the view allows them; for a class the list of recordings has to be there. */
export function useNames(): Names {
  const { projector } = useProjector();
  const { data = none } = useQuery({
    queryKey: keys.recordings,
    queryFn: calls.recordings,
    enabled: projector,
  });
  return useMemo(() => (projector ? classNames(data) : plainNames), [projector, data]);
}

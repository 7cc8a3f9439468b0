/**
 * The view for a class: large type, and no group can be told from another.
 *
 *   const { projector, change } = useProjector();
 *
 * It stands in the address (`?view=projector`), so that it can be sent and reloaded, and stays on from place to
 * place until it is turned off. Names of groups and recordings must come from `groupName` and `recordingName`
 * (names.ts), which hide them in this view.
 */
import { useEffect, useSyncExternalStore } from 'react';
import { useLocation, useSearch } from 'wouter';

const listeners = new Set<() => void>();
let on = new URLSearchParams(window.location.search).get('view') === 'projector';

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function show(): void {
  const search = new URLSearchParams(window.location.search);
  if (on) {
    search.set('view', 'projector');
    document.documentElement.dataset['view'] = 'projector';
  } else {
    search.delete('view');
    delete document.documentElement.dataset['view'];
  }
  const text = search.toString();
  const address = `${window.location.pathname}${text === '' ? '' : `?${text}`}${window.location.hash}`;
  const shown = `${window.location.pathname}${window.location.search}${window.location.hash}`;
  if (address !== shown) window.history.replaceState(window.history.state, '', address);
}

function change(): void {
  on = !on;
  show();
  for (const listener of listeners) listener();
}

export function useProjector(): { projector: boolean; change: () => void } {
  const projector = useSyncExternalStore(subscribe, () => on);
  return { projector, change };
}

/** Keeps the view in the address from place to place. For the frame alone. */
export function useProjectorAddress(): void {
  const [location] = useLocation();
  const search = useSearch();
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new address is what it answers to
  useEffect(show, [location, search]);
}

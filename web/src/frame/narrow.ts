/** Whether the window is as narrow as a phone: `const narrow = useNarrow();`. The same limit as in the styles. */
import { useSyncExternalStore } from 'react';

const query = window.matchMedia('(max-width: 44rem)');

function subscribe(listener: () => void): () => void {
  query.addEventListener('change', listener);
  return () => query.removeEventListener('change', listener);
}

export function useNarrow(): boolean {
  return useSyncExternalStore(subscribe, () => query.matches);
}

import { useEffect } from 'react';

/** Names the window: `useTitle('plan')` shows 'plan · Emberline'. Every place calls it. */
export function useTitle(title: string): void {
  useEffect(() => {
    document.title = title === '' ? 'Emberline' : `${title} · Emberline`;
  }, [title]);
}

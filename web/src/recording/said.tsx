import { useEffect, useRef } from 'react';

/**
 * What has just been done, in words. The word that did it is mostly gone by then: the focus comes here in its
 * place, so that it is read out and the next Tab goes on from where the person was.
 */
export function Said({ said }: { readonly said: { readonly words: string } }) {
  const here = useRef<HTMLParagraphElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the same words may be said twice
  useEffect(() => here.current?.focus({ preventScroll: true }), [said]);
  return (
    <p ref={here} tabIndex={-1} className="small">
      {said.words}
    </p>
  );
}

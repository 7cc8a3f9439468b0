import { Fragment } from 'react';
import { pieces } from './sentence-pieces.ts';

/** A sentence that was written for any page or terminal, set for this one. */
export function Said({ children }: { readonly children: string }) {
  return pieces(children).map(({ text, raised }, i) => {
    const key = `${i} ${text}`;
    return raised ? <sup key={key}>{text}</sup> : <Fragment key={key}>{text}</Fragment>;
  });
}

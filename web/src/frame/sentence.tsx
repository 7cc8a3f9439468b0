/**
 * A sentence that was written for any page or terminal, set for this one: `<Sentence>{trend.sentence}</Sentence>`.
 * Exponents in brackets stand above the line, and a hyphen before a number is a minus sign.
 */
import { Fragment } from 'react';
import { pieces } from './sentence-pieces.ts';

export function Sentence({ children }: { readonly children: string }) {
  return pieces(children).map(({ text, raised }, i) => {
    const key = `${i} ${text}`;
    return raised ? <sup key={key}>{text}</sup> : <Fragment key={key}>{text}</Fragment>;
  });
}

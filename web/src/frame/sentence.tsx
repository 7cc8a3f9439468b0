/**
 * A sentence that was written for any page or terminal, set for this one: `<Sentence>{trend.sentence}</Sentence>`.
 * Exponents in brackets stand above the line, a hyphen before a number is a minus sign, options of the command line
 * become fields of the page, and in the projector view codes of groups are hidden.
 */
import { Said } from './said.tsx';
import { useNames } from './use-names.ts';

export function Sentence({ children }: { readonly children: string }) {
  const { said } = useNames();
  return <Said>{said(children)}</Said>;
}

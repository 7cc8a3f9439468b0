import { useLayoutEffect, useRef } from 'react';
import type { Steps } from '../../../src/server/contract/index.ts';

/** A formula with its number, and beneath it the same as plain text where that is asked for. */
export function Formula({
  formula,
  name,
  asText,
}: {
  readonly formula: Steps['steps'][number]['formulas'][number];
  /** Its number, as '4.2'. */
  readonly name: string;
  readonly asText: boolean;
}) {
  const { mathml, plain } = formula;
  const paper = useRef<HTMLDivElement>(null);

  useLayoutEffect(() => {
    // MathML of the server's own making, from numbers and fixed letters: nothing of a file or a person is in it.
    // It is parsed as XML all the same, so that whatever stood in it would be shown and not run.
    const math = parsed(mathml);
    paper.current?.replaceChildren(...(math === null ? [plain] : [math]));
  }, [mathml, plain]);

  return (
    <div className="formula">
      <div
        className="formula-set scroll"
        role="math"
        aria-label={plain}
        ref={paper}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
        tabIndex={0}
      />
      <span className="formula-number">({name})</span>
      {asText && <p className="formula-plain">{plain}</p>}
    </div>
  );
}

function parsed(mathml: string): Element | null {
  const root = new DOMParser().parseFromString(mathml, 'application/xml').documentElement;
  const isMath = root.localName === 'math' && root.namespaceURI === 'http://www.w3.org/1998/Math/MathML';
  return isMath ? document.importNode(root, true) : null;
}

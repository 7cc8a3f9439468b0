import { type ReactNode, useEffect, useRef, useState } from 'react';
import { beyondWords } from './beyond.ts';

/** Where the grid stands. What is out of sight is said, and reached by scrolling or by the keys. */
export function GridRoom({ children }: { readonly children: ReactNode }) {
  const room = useRef<HTMLElement>(null);
  const [beyond, setBeyond] = useState<string | null>(null);
  useEffect(() => {
    const element = room.current;
    if (element === null) return;
    const look = () => {
      const { left, right } = element.getBoundingClientRect();
      const held = element.querySelector('.grid-flow')?.getBoundingClientRect().right ?? left;
      const heads = [...element.querySelectorAll('.grid-group')];
      const names = (which: (box: DOMRect) => boolean) =>
        heads.filter((head) => which(head.getBoundingClientRect())).map((head) => head.textContent);
      const wide = element.scrollWidth > element.clientWidth + 1;
      const before = names((box) => box.left < held - 2);
      const behind = names((box) => box.right > right + 2);
      setBeyond(wide ? beyondWords(before, behind) : null);
    };
    const watch = new ResizeObserver(look);
    watch.observe(element);
    for (const child of element.children) watch.observe(child);
    element.addEventListener('scroll', look, { passive: true });
    return () => {
      watch.disconnect();
      element.removeEventListener('scroll', look);
    };
  }, []);
  return (
    <>
      {beyond !== null && <p className="small grid-beyond">{beyond}</p>}
      <section
        className="scroll grid-room"
        ref={room}
        aria-label="grid of conditions and groups"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
        tabIndex={0}
      >
        {children}
      </section>
    </>
  );
}

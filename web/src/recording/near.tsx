/** Coming nearer and going farther: words to press, keys, the wheel with Ctrl, two fingers, and dragging along. */
import { type KeyboardEvent, type PointerEvent, useEffect, useRef } from 'react';
import type { TraceLayout } from '../../../src/figure/index.ts';
import type { Span } from '../../../src/server/contract/index.ts';
import {
  type Across,
  across,
  followed,
  leastView,
  moved,
  nearerBy,
  viewStep,
  viewWords,
  wholeOf,
  zoomed,
} from './view.ts';

interface Near {
  readonly view: Span | null;
  readonly setView: (change: (view: Span | null) => Span | null) => void;
  /** s */
  readonly duration: number;
  /** Hz */
  readonly rate: number;
}

/** The words below the figure. */
export function NearWords({
  view,
  setView,
  duration,
  rate,
  window,
  raw,
}: Near & {
  /** The window of the fit, which can be looked at as a whole. */
  readonly window: Span | null;
  /** Whether single readings are shown. */
  readonly raw: boolean;
}) {
  const middle = (v: Span | null) => {
    const { from, to } = v ?? (window === null ? wholeOf(duration) : window);
    return (from + to) / 2;
  };
  const zoom = (factor: number) => setView((v) => zoomed(v, duration, factor, middle(v), leastView(rate)));
  const pan = (share: number) =>
    setView((v) => (v === null ? v : moved(v, duration, share * (v.to - v.from))));
  const press = (event: KeyboardEvent) => {
    const step = viewStep(event.key);
    if (step === null || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    if (step.nearer !== 1) zoom(step.nearer);
    else pan(step.along);
  };
  const nearest = view !== null && view.to - view.from <= leastView(rate) * 1.001;
  const atStart = view === null || view.from <= 0;
  const atEnd = view === null || view.to >= duration;
  return (
    // The keys help those who have already reached one of the words; each word is a button by itself.
    <div
      className="words small near-words not-on-paper"
      role="toolbar"
      aria-label="Time in view"
      onKeyDown={press}
    >
      <ViewWord word="nearer" does={() => zoom(nearerBy)} idle={nearest} />
      <ViewWord word="farther" does={() => zoom(1 / nearerBy)} idle={view === null} />
      <ViewWord word="earlier" does={() => pan(-0.5)} idle={atStart} />
      <ViewWord word="later" does={() => pan(0.5)} idle={atEnd} />
      {window !== null && (
        <ViewWord
          word="the window"
          does={() =>
            setView(() => zoomed(window, duration, 0.9, (window.from + window.to) / 2, leastView(rate)))
          }
          idle={false}
        />
      )}
      <ViewWord word="all" does={() => setView(() => null)} idle={view === null} />
      <span className="quiet" aria-live="polite">
        {viewWords(view, duration)}
        {raw ? ', single readings' : ''}
      </span>
    </div>
  );
}

/** A word that would change nothing now says so, and keeps the focus of whom it has brought there. */
function ViewWord({
  word,
  does,
  idle,
}: {
  readonly word: string;
  readonly does: () => void;
  readonly idle: boolean;
}) {
  return (
    <button type="button" className="word" onClick={idle ? undefined : does} aria-disabled={idle}>
      {word}
    </button>
  );
}

/** Over the upper panel: dragging moves the view along; two fingers, or the wheel with Ctrl, come nearer. */
export function NearSurface({
  layout,
  view,
  setView,
  duration,
  rate,
}: Near & { readonly layout: TraceLayout }) {
  const surface = useRef<HTMLDivElement>(null);
  const fingers = useRef(new Map<number, number>());
  /** Where the fingers were when their number last changed, and what was in view then. */
  const held = useRef<(Across & { readonly view: Span | null }) | null>(null);
  const panel = layout.upper;
  const from = panel?.x[0] ?? 0;
  const to = panel?.x[1] ?? 0;

  // React's own wheel listeners cannot keep the page from growing.
  useEffect(() => {
    const element = surface.current;
    if (element === null) return;
    const turn = (event: WheelEvent) => {
      if (!event.ctrlKey) return;
      event.preventDefault();
      const box = element.getBoundingClientRect();
      const about = from + ((event.clientX - box.left) / box.width) * (to - from);
      const factor = Math.exp(-Math.min(Math.max(event.deltaY, -100), 100) / 150);
      setView((v) => zoomed(v, duration, factor, about, leastView(rate)));
    };
    element.addEventListener('wheel', turn, { passive: false });
    return () => element.removeEventListener('wheel', turn);
  }, [from, to, duration, rate, setView]);

  if (panel === null) return null;
  const hold = () => {
    const at = across([...fingers.current.values()]);
    held.current = at === null ? null : { ...at, view };
  };
  const take = (event: PointerEvent<HTMLDivElement>) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    fingers.current.set(event.pointerId, event.clientX);
    hold();
  };
  const drag = (event: PointerEvent<HTMLDivElement>) => {
    if (held.current === null || !fingers.current.has(event.pointerId)) return;
    fingers.current.set(event.pointerId, event.clientX);
    const at = across([...fingers.current.values()]);
    const box = event.currentTarget.getBoundingClientRect();
    if (at === null || box.width === 0) return;
    const { view: then, ...was } = held.current;
    const share = ({ middle, apart }: Across) => ({ middle: (middle - box.left) / box.width, apart });
    const next = followed(then, duration, share(was), share(at), leastView(rate));
    setView(() => next);
  };
  const release = (event: PointerEvent<HTMLDivElement>) => {
    fingers.current.delete(event.pointerId);
    hold();
  };
  // The axis and its numbers below the panel can be taken hold of too.
  const below = 34 * (layout.width / 1000 > 1 ? 1 : 0.8);
  return (
    <div
      ref={surface}
      className={view === null ? 'near-surface' : 'near-surface near-surface-held'}
      style={{
        left: `${(100 * panel.left) / layout.width}%`,
        top: `${(100 * panel.top) / layout.height}%`,
        width: `${(100 * panel.width) / layout.width}%`,
        height: `${(100 * (panel.height + below)) / layout.height}%`,
      }}
      onPointerDown={take}
      onPointerMove={drag}
      onPointerUp={release}
      onPointerCancel={release}
    />
  );
}

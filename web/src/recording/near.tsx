/** Coming nearer and going farther: words to press, keys, the wheel with Ctrl, and dragging the figure along. */
import { type KeyboardEvent, type PointerEvent, useEffect, useRef } from 'react';
import type { TraceLayout } from '../../../src/figure/index.ts';
import type { Span } from '../../../src/server/contract/index.ts';
import { leastView, moved, nearerBy, viewStep, viewWords, wholeOf, zoomed } from './view.ts';

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
  return (
    // The keys help those who have already reached one of the words; each word is a button by itself.
    <div
      className="words small near-words not-on-paper"
      role="toolbar"
      aria-label="Time in view"
      onKeyDown={press}
    >
      <button type="button" className="word" onClick={() => zoom(nearerBy)} disabled={nearest}>
        nearer
      </button>
      <button type="button" className="word" onClick={() => zoom(1 / nearerBy)} disabled={view === null}>
        farther
      </button>
      <button type="button" className="word" onClick={() => pan(-0.5)} disabled={view === null}>
        earlier
      </button>
      <button type="button" className="word" onClick={() => pan(0.5)} disabled={view === null}>
        later
      </button>
      {window !== null && (
        <button
          type="button"
          className="word"
          onClick={() =>
            setView(() => zoomed(window, duration, 0.9, (window.from + window.to) / 2, leastView(rate)))
          }
        >
          the window
        </button>
      )}
      <button type="button" className="word" onClick={() => setView(() => null)} disabled={view === null}>
        all
      </button>
      <span className="quiet" aria-live="polite">
        {viewWords(view, duration)}
        {raw ? ', single readings' : ''}
      </span>
    </div>
  );
}

/** Over the upper panel: dragging moves the view along, the wheel with Ctrl comes nearer to what is under it. */
export function NearSurface({
  layout,
  view,
  setView,
  duration,
  rate,
}: Near & { readonly layout: TraceLayout }) {
  const surface = useRef<HTMLDivElement>(null);
  const held = useRef<{ readonly x: number; readonly view: Span } | null>(null);
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
  const take = (event: PointerEvent<HTMLDivElement>) => {
    if (view === null || event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    held.current = { x: event.clientX, view };
  };
  const drag = (event: PointerEvent<HTMLDivElement>) => {
    const start = held.current;
    if (start === null) return;
    const width = event.currentTarget.clientWidth;
    const by = ((start.x - event.clientX) / width) * (start.view.to - start.view.from);
    setView(() => moved(start.view, duration, by));
  };
  const release = () => {
    held.current = null;
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

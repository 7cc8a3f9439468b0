/** Handles on the figure: a line and a word for each mark, moved by mouse, finger or keys. */
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import type { TraceLayout } from '../../../src/figure/index.ts';
import {
  type Bounds,
  type MarkName,
  markNames,
  markSaid,
  markWords,
  type Positions,
  partOf,
  reachOf,
  timeByKey,
  timeOf,
} from './marks.ts';

export function Handles({
  layout,
  positions,
  bounds,
  step,
  move,
}: {
  readonly layout: TraceLayout;
  readonly positions: Positions;
  readonly bounds: Bounds;
  /** Step of the arrow keys, s. */
  readonly step: number;
  readonly move: (name: MarkName, time: number) => void;
}) {
  const panel = layout.upper;
  if (panel === null) return null;
  const place = {
    left: `${(100 * panel.left) / layout.width}%`,
    top: `${(100 * panel.top) / layout.height}%`,
    width: `${(100 * panel.width) / layout.width}%`,
    height: `${(100 * panel.height) / layout.height}%`,
  };
  const [from, to] = panel.x;
  // The curve ends at the middle of its last block, the recording a little later.
  const edge = 0.005 * (to - from);
  return (
    <div className="handles" style={place}>
      {markNames.map((name) => {
        const time = timeOf(positions, name);
        // A mark out of view keeps its field below the figure.
        if (time === null || time < from - edge || time > to + edge) return null;
        return (
          <Handle
            key={name}
            name={name}
            time={time}
            share={Math.min(Math.max((time - from) / (to - from), 0), 1)}
            secondsAcross={to - from}
            reach={reachOf(positions, name, bounds)}
            said={markSaid(name, positions, step)}
            step={step}
            move={move}
          />
        );
      })}
    </div>
  );
}

function Handle({
  name,
  time,
  share,
  secondsAcross,
  reach,
  said,
  step,
  move,
}: {
  readonly name: MarkName;
  readonly time: number;
  /** Place across the panel, 0 to 1. */
  readonly share: number;
  readonly secondsAcross: number;
  readonly reach: readonly [number, number];
  readonly said: string;
  readonly step: number;
  readonly move: (name: MarkName, time: number) => void;
}) {
  /** Where the pointer took hold, and where the mark stood then. */
  const held = useRef<{ readonly x: number; readonly time: number } | null>(null);
  const take = (event: PointerEvent<HTMLDivElement>) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    event.currentTarget.focus({ preventScroll: true });
    event.preventDefault();
    event.stopPropagation();
    held.current = { x: event.clientX, time };
  };
  const drag = (event: PointerEvent<HTMLDivElement>) => {
    const width = event.currentTarget.parentElement?.clientWidth ?? 0;
    if (held.current === null || width === 0) return;
    move(name, held.current.time + ((event.clientX - held.current.x) / width) * secondsAcross);
  };
  const release = () => {
    held.current = null;
  };
  const press = (event: KeyboardEvent<HTMLDivElement>) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = timeByKey(event.key, event.shiftKey, time, step, reach);
    if (next === null) return;
    event.preventDefault();
    event.stopPropagation();
    move(name, next);
  };
  return (
    <div
      className={`handle handle-${partOf(name)} handle-${name.endsWith('from') ? 'from' : 'to'}`}
      style={{ left: `${100 * share}%` }}
      role="slider"
      tabIndex={0}
      aria-label={markWords(name)}
      aria-valuemin={reach[0]}
      aria-valuemax={reach[1]}
      aria-valuenow={time}
      aria-valuetext={said}
      onPointerDown={take}
      onPointerMove={drag}
      onPointerUp={release}
      onPointerCancel={release}
      onKeyDown={press}
    >
      <span className="handle-word" aria-hidden="true">
        {name.endsWith('from') ? 'from' : 'to'}
      </span>
    </div>
  );
}

/** The figure of the recording, with its marks to be moved and its time to be looked at from near. */
import { useQuery } from '@tanstack/react-query';
import { useCallback, useEffect, useMemo, useState } from 'react';
import type { TraceFigureData, TraceLayout, TraceShape } from '../../../src/figure/index.ts';
import type { Detail, Marks, Span } from '../../../src/server/contract/index.ts';
import { calls } from '../api/calls.ts';
import { keys } from '../api/queries.ts';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';
import { pageWords } from '../frame/sentence-pieces.ts';
import { useNames } from '../frame/use-names.ts';
import { Handles } from './handles.tsx';
import { boundsOf, type MarkName, moveMark, positionsOf, rounded, stepFor } from './marks.ts';
import { NearSurface, NearWords } from './near.tsx';
import { Remarks } from './remarks.tsx';
import { readingsFor, wholeOf } from './view.ts';

/** From this width on, before the scale, the remarks stand in the figure's own margin, px. */
const marginFrom = 820;
/** Letters are this much larger for a class. */
const forAClass = 1.5;
/** Points asked for of a stretch in view. */
const points = 1000;
/** How long a view rests before its readings are asked for, ms. */
const rest = 120;

export function Trace({
  path,
  name,
  detail,
  marks,
  setMoved,
  view,
  setView,
  projector,
}: {
  readonly path: string;
  readonly name: string;
  /** The result by the marks as they stand, or the last one before. */
  readonly detail: Detail;
  /** Marks as moved, or as kept. */
  readonly marks: Marks;
  readonly setMoved: (marks: Marks) => void;
  readonly view: Span | null;
  readonly setView: (change: (view: Span | null) => Span | null) => void;
  readonly projector: boolean;
}) {
  const { rate } = detail.read;
  const duration = detail.duration ?? detail.figure.time.at(-1) ?? 0;
  const near = useNear(path, view);
  const readings = readingsFor(near, view);
  const { said } = useNames();
  const data = useMemo<TraceFigureData>(
    () => ({
      ...detail.figure,
      name,
      remarks: detail.figure.remarks.map((remark) => ({
        ...remark,
        message: pageWords(said(remark.message)),
        action: pageWords(said(remark.action)),
      })),
    }),
    [detail.figure, name, said],
  );
  const scale = projector ? forAClass : 1;
  const some = detail.figure.remarks.length > 0;
  const shapeFor = useCallback(
    (width: number): TraceShape => ({
      width,
      scale,
      view,
      readings,
      heading: false,
      notes: some && width / scale >= marginFrom ? 'margin' : 'numbers',
    }),
    [scale, view, readings, some],
  );
  const draw = useCallback<Draw>(
    async (options) => {
      const { traceFigure } = await import('./figures.ts');
      return traceFigure(data, { ...options, ...shapeFor(options.width) });
    },
    [data, shapeFor],
  );
  const table = useCallback(() => import('./figures.ts').then((f) => f.traceTable(data)), [data]);
  const [layout, setLayout] = useState<TraceLayout | null>(null);
  const [width, setWidth] = useState(0);
  const drawn = useCallback((svg: SVGSVGElement) => {
    setWidth(Number(svg.getAttribute('width')));
    return undefined;
  }, []);
  useEffect(() => {
    if (width === 0) return;
    let late = false;
    import('./figures.ts').then(
      (f) => {
        if (!late) setLayout(f.traceLayout(data, shapeFor(width)));
      },
      // The figure itself says that it could not be drawn.
      () => undefined,
    );
    return () => {
      late = true;
    };
  }, [data, shapeFor, width]);

  const positions = positionsOf(marks, detail);
  const bounds = boundsOf(duration, rate);
  const seen = view ?? wholeOf(duration);
  const step = stepFor(seen.to - seen.from, rate);
  const move = (mark: MarkName, time: number) =>
    setMoved(moveMark(marks, positions, mark, rounded(time, step), bounds));
  const beside = width / scale >= marginFrom;

  return (
    <div>
      <FigureWith
        name={`trace-${name.replace(/\W+/g, '-')}`}
        label={`Temperature and error fraction of ${name}`}
        draw={draw}
        table={table}
        drawn={drawn}
      >
        {layout !== null && (
          <>
            <NearSurface layout={layout} view={view} setView={setView} duration={duration} rate={rate} />
            <Handles layout={layout} positions={positions} bounds={bounds} step={step} move={move} />
          </>
        )}
      </FigureWith>
      <NearWords
        view={view}
        setView={setView}
        duration={duration}
        rate={rate}
        window={detail.figure.segments.window}
        raw={readings?.raw ?? false}
      />
      <Remarks remarks={detail.remarks} beside={beside} />
    </div>
  );
}

/** Readings of the stretch in view, asked for once it rests. */
function useNear(path: string, view: Span | null) {
  const [asked, setAsked] = useState(view);
  useEffect(() => {
    const timer = setTimeout(() => setAsked(view), rest);
    return () => clearTimeout(timer);
  }, [view]);
  const { from, to } = asked ?? { from: 0, to: 0 };
  return useQuery({
    queryKey: keys.readings(path, from, to, points),
    queryFn: ({ signal }) => calls.readings(path, from, to, points, signal),
    enabled: asked !== null,
    gcTime: 10_000,
  }).data;
}

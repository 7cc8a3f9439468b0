/**
 * A figure, and under it in words: its table, and saving it as SVG and PNG.
 *
 *   // figures.ts of the place, so that the drawing library is loaded when the first figure is:
 *   //   export { traceFigure, traceTable } from '../../../src/figure/index.ts';
 *   const draw = useCallback<Draw>(
 *     (options) => import('./figures.ts').then((f) => f.traceFigure(data, options)), [data]);
 *   const table = useCallback(() => import('./figures.ts').then((f) => f.traceTable(data)), [data]);
 *   <FigureWith name="trace-brass-12" label="Trace of brass-12 60" draw={draw} table={table} />
 *
 * `draw` gets { document, theme, width, scale } and gives SVG text, at once or later; it is called again when
 * it changes, so keep it in useCallback. `width` is the room there is, px, and `scale` how much larger the
 * projector view is: hand both on. Figures of a fixed width scroll by themselves where they would become too
 * small to read. A file is drawn for paper, 960 px wide. `drawn` gets the SVG element after each
 * drawing, to be listened to or marked; what it returns is called before the next.
 */
import { type ReactNode, useEffect, useId, useLayoutEffect, useRef, useState } from 'react';
import type { FigureOptions, FigureTable } from '../../../src/figure/index.ts';
import { useProjector } from './projector.ts';
import { savePng, saveText } from './save.ts';
import { TableBehind } from './table-behind.tsx';
import { savedTheme, useTheme } from './theme.ts';
import { Trouble } from './trouble.tsx';

interface DrawOptions extends FigureOptions {
  readonly width: number;
  readonly scale: number;
}

/** Width of a saved figure, px. */
const savedWidth = 960;
/** Letters in the projector view, as in the styles. */
const projectorScale = 1.5;

export type Draw = (options: DrawOptions) => string | Promise<string>;

export function FigureWith({
  name,
  label,
  draw,
  table,
  drawn,
  children,
}: {
  /** Name of a saved file, without its ending. */
  readonly name: string;
  /** What the figure is, in a few words. */
  readonly label: string;
  readonly draw: Draw;
  readonly table: () => FigureTable | Promise<FigureTable>;
  readonly drawn?: ((svg: SVGSVGElement) => (() => void) | undefined) | undefined;
  /** Laid over the figure. */
  readonly children?: ReactNode;
}) {
  const { theme, figureTheme } = useTheme();
  const { projector } = useProjector();
  const scale = projector ? projectorScale : 1;
  const [width, setWidth] = useState(0);
  const room = useRef<HTMLDivElement>(null);
  const paper = useRef<HTMLDivElement>(null);
  const [svg, setSvg] = useState<{ readonly text: string; readonly width: number } | null>(null);
  const [trouble, setTrouble] = useState<unknown>(null);
  const [shown, setShown] = useState<FigureTable | null>(null);
  const tableId = useId();

  useLayoutEffect(() => {
    const element = room.current;
    if (element === null) return;
    const watch = new ResizeObserver(() => setWidth(Math.round(element.clientWidth / 20) * 20));
    watch.observe(element);
    setWidth(Math.round(element.clientWidth / 20) * 20);
    return () => watch.disconnect();
  }, []);

  useEffect(() => {
    if (width === 0) return;
    let late = false;
    Promise.resolve(figureTheme)
      .then((look) => draw({ document, theme: look, width, scale }))
      .then(
        (text) => {
          if (!late) {
            setSvg({ text, width });
            setTrouble(null);
          }
        },
        (error: unknown) => {
          if (!late) setTrouble(error);
        },
      );
    return () => {
      late = true;
    };
  }, [draw, figureTheme, width, scale]);

  useLayoutEffect(() => {
    if (svg === null || paper.current === null) return;
    const element = parsed(svg.text);
    if (element === null) return;
    paper.current.replaceChildren(element);
    paper.current.parentElement?.toggleAttribute('data-fixed', isFixed(element, svg.width));
    return drawn?.(element);
  }, [svg, drawn]);

  // An open table follows its figure.
  const open = shown !== null;
  useEffect(() => {
    if (!open) return;
    let late = false;
    Promise.resolve(table()).then(
      (next) => {
        if (!late) setShown(next);
      },
      (error: unknown) => setTrouble(error),
    );
    return () => {
      late = true;
    };
  }, [open, table]);

  const toggle = async () => {
    try {
      setShown(open ? null : await table());
    } catch (error) {
      setTrouble(error);
    }
  };
  const save = async (ending: 'svg' | 'png') => {
    try {
      const text = await draw({ document, theme: savedTheme(theme), width: savedWidth, scale: 1 });
      if (ending === 'svg') saveText(text, `${name}.svg`, 'image/svg+xml');
      else await savePng(text, `${name}.png`);
    } catch (error) {
      setTrouble(error);
    }
  };

  return (
    <figure className="figure-with">
      <section
        className="figure-room scroll"
        ref={room}
        aria-label={label}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
        tabIndex={0}
      >
        <div className="figure-paper">
          <div ref={paper} />
          {children}
        </div>
        {svg === null && trouble === null && <p className="quiet figure-waiting">Drawing …</p>}
      </section>
      {trouble !== null && <Trouble error={trouble} />}
      <p className="words small not-on-paper">
        <button
          type="button"
          className="word"
          aria-expanded={open}
          aria-controls={tableId}
          onClick={() => void toggle()}
        >
          {open ? 'hide the table' : 'table'}
          <span className="hidden-text"> of {label}</span>
        </button>
        <button type="button" className="word" onClick={() => void save('svg')}>
          SVG<span className="hidden-text"> of {label}</span>
        </button>
        <button type="button" className="word" onClick={() => void save('png')}>
          PNG<span className="hidden-text"> of {label}</span>
        </button>
      </p>
      <div id={tableId}>{shown !== null && <TableBehind table={shown} name={name} />}</div>
    </figure>
  );
}

/** Whether a figure did not follow the width that it was given. */
function isFixed(svg: SVGSVGElement, width: number): boolean {
  return Math.abs(svg.width.baseVal.value - Math.max(width, 340)) > 1;
}

/** The drawing as an element that belongs to the page: parsed as XML, so nothing in it runs. */
function parsed(svg: string): SVGSVGElement | null {
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  const element = document.importNode(root, true);
  return element instanceof SVGSVGElement ? element : null;
}

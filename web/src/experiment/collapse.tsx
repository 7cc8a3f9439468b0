import { useCallback, useMemo, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Summary } from '../../../src/server/contract/index.ts';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';
import type { Names } from '../frame/names.ts';
import { addressOf } from './entry.tsx';
import { seriesOf } from './series.ts';

/** A stray's name in the figure, in parts of the figure's own size. */
interface NamePlace {
  readonly path: string;
  readonly words: string;
  readonly index: number;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Every recording on one line of slope −1. A stray is opened by its line or by its name; the names are links of
 * the page laid over the figure, so that keyboard and screen reader reach them.
 */
export function Collapse({
  recordings,
  names,
  strayOf = null,
}: {
  readonly recordings: readonly Summary[];
  readonly names: Names;
  /** Why a recording is set apart, by its path, where that is not what is seen of it alone. */
  readonly strayOf?: ReadonlyMap<string, string> | null;
}) {
  const series = useMemo(() => seriesOf(recordings, names, strayOf), [recordings, names, strayOf]);
  const strays = useMemo(() => series.filter(({ stray }) => stray !== null), [series]);
  const [places, setPlaces] = useState<readonly NamePlace[]>([]);
  const [lines, setLines] = useState<readonly SVGElement[]>([]);
  const [, go] = useLocation();

  const draw = useCallback<Draw>(
    (options) => import('./figures.ts').then((figures) => figures.collapseFigure(series, options)),
    [series],
  );
  const table = useCallback(
    () => import('./figures.ts').then((figures) => figures.collapseTable(series)),
    [series],
  );
  const drawn = useCallback(
    (element: SVGSVGElement) => {
      const found = linesOf(element);
      setLines(found);
      const { width, height } = element.viewBox.baseVal;
      const texts = [...element.querySelectorAll<SVGTextElement>(':scope > text')];
      setPlaces(
        strays.flatMap(({ path, name, stray }, index): NamePlace[] => {
          const text = texts.find(({ textContent }) => named(textContent ?? '', name));
          if (text === undefined) return [];
          const box = text.getBBox();
          const words = `${name}: ${stray}`;
          const place = { path, words, index, left: box.x / width, top: box.y / height };
          return [{ ...place, width: box.width / width, height: box.height / height }];
        }),
      );
      const leave = found.map((line, i) => {
        const path = strays[i % strays.length]?.path;
        const open = () => path !== undefined && go(addressOf(path));
        line.addEventListener('click', open);
        return () => line.removeEventListener('click', open);
      });
      return () => {
        for (const off of leave) off();
      };
    },
    [strays, go],
  );
  const light = (index: number | null) => {
    for (const [i, line] of lines.entries()) {
      const lit = index !== null && i % strays.length === index;
      line.toggleAttribute('data-lit', lit);
      // Drawn last, it lies above the others.
      if (lit) line.parentNode?.append(line);
    }
  };

  return (
    <FigureWith
      name="collapse"
      label="every recording on the scale of its own time constant"
      draw={draw}
      table={table}
      drawn={drawn}
    >
      {places.map(({ path, words, index, left, top, width, height }) => (
        <Link
          key={path}
          href={addressOf(path)}
          className="stray-name"
          aria-label={words}
          style={{
            left: `${left * 100}%`,
            top: `${top * 100}%`,
            width: `${width * 100}%`,
            height: `${height * 100}%`,
          }}
          onFocus={() => light(index)}
          onBlur={() => light(null)}
          onMouseEnter={() => light(index)}
          onMouseLeave={() => light(null)}
        />
      ))}
    </FigureWith>
  );
}

/** The strays' lines, first those of the upper panel in their order, then those of the lower. */
function linesOf(svg: SVGSVGElement): SVGElement[] {
  return [...svg.querySelectorAll<SVGElement>('[data-part="stray"]')];
}

/** Whether a text of the figure is a name, which may have been cut to fit. */
function named(text: string, name: string): boolean {
  return text === name || (text.endsWith('…') && name.startsWith(text.slice(0, -1)));
}

import type { CollapseSeries } from '../../../src/figure/index.ts';
import type { Summary } from '../../../src/server/contract/index.ts';
import type { Names } from '../frame/names.ts';
import { reasonWords } from './reason.ts';

/** A recording as the collapse draws it, and where it leads. */
export interface NamedSeries extends CollapseSeries {
  readonly path: string;
}

/** Whether a recording is set apart in the collapse and its strip: it is to be repeated, or is no exponential. */
export function isStray({ verdict, codes, rejected }: Summary): boolean {
  return !rejected && (verdict === 'repeat' || codes.includes('not-first-order'));
}

/**
 * Recordings for the collapse, on the scale of their own time constants already. Names are unlike each other, so
 * that a name in the figure leads to one recording.
 *
 * @param strayOf why recordings are set apart beyond what is seen of each alone, by path
 */
export function seriesOf(
  recordings: readonly Summary[],
  names: Names,
  strayOf: ReadonlyMap<string, string> | null = null,
): NamedSeries[] {
  const named = new Map<string, number>();
  return recordings.flatMap((recording): NamedSeries[] => {
    const { strip, path, place, rejected } = recording;
    if (strip === null || rejected) return [];
    const name = names.of(place, path);
    const count = (named.get(name) ?? 0) + 1;
    named.set(name, count);
    return [
      {
        path,
        name: count === 1 ? name : `${name} (${count})`,
        timeConstant: 1,
        time: strip.x,
        errorFraction: strip.y.map(Math.exp),
        stray: strayOf?.get(path) ?? (isStray(recording) ? reasonWords(recording) || 'to be repeated' : null),
      },
    ];
  });
}

/**
 * Names as the view allows them: in the projector view no group or bench can be told from another. Recordings of a
 * condition are then numbered in the order of their values, which tells nothing of the groups.
 *
 *   const { of, said } = useNames();      (use-names.ts)
 *   of(place, path)                       'A3 brass-12 at 60, repeat 2', or 'brass-12 at 60, recording 3'
 *   said(sentence)                        the sentence, or the sentence without codes and paths
 *   groupName('A3', projector)            'A3', or 'a group'
 *   conditionWords('brass-12', '60')      'brass-12 at 60'
 */
import type { PlaceView, RecordingList, Summary } from '../../../src/server/contract/index.ts';

/** A group's code, or that it is one. */
export function groupName(group: string | null, projector: boolean): string {
  if (projector) return 'a group';
  return group ?? 'no group';
}

/** Body and flow of a condition, as they are coded in the experiment file. */
export function conditionWords(body: string | null, flow: string | null): string {
  return `${body ?? 'unknown body'} at ${flow ?? 'unknown flow'}`;
}

export interface Names {
  /** A recording by what it is of, else by the end of its path. */
  readonly of: (place: PlaceView, path: string) => string;
  /** A recording of which only the path is known. */
  readonly at: (path: string) => string;
  /** A sentence that somebody else wrote, with nothing in it that the view hides. */
  readonly said: (sentence: string) => string;
  /** Number of a recording within its condition; null where the view needs none. */
  readonly number: (path: string) => number | null;
}

/** Every name as it is, for those who may know the groups. */
export const plainNames: Names = {
  of: (place, path) => {
    if (place.body === null) return fileName(path);
    const repeat = place.repeat === null ? '' : `, repeat ${place.repeat}`;
    const group = place.group ?? place.bench ?? place.section ?? '';
    return `${group} ${conditionWords(place.body, place.flow)}${repeat}`.trimStart();
  },
  at: fileName,
  said: (sentence) => sentence,
  number: () => null,
};

/** Names for a class. */
export function classNames({ recordings, unplaced }: Pick<RecordingList, 'recordings' | 'unplaced'>): Names {
  const numbers = numbersOf(recordings);
  const of = (place: PlaceView, path: string) => {
    if (place.body === null) return 'a recording';
    const number = numbers.get(path);
    return `${conditionWords(place.body, place.flow)}${number === undefined ? '' : `, recording ${number}`}`;
  };
  const byPath = new Map(recordings.map(({ place, path }) => [path, of(place, path)]));
  for (const { path } of unplaced) byPath.set(path, 'a file');
  const paths = [...byPath].sort(([a], [b]) => b.length - a.length);
  const codes = codesOf(recordings);
  return {
    of,
    at: (path) => byPath.get(path) ?? 'a recording',
    said: (sentence) => {
      const named = paths.reduce((text, [path, name]) => text.replaceAll(path, name), sentence);
      const left = named.replace(/\brecordings\/[^\s"'“”]*[^\s"'“”.,:;]/g, 'a file');
      const nobody = deeds.reduce((text, [pattern, words]) => text.replace(pattern, words), left);
      return codes.reduce((text, [pattern, words]) => text.replace(pattern, words), nobody);
    },
    number: (path) => numbers.get(path) ?? null,
  };
}

/** Sentences that name who did something, as `analysis` writes them. */
const deeds: readonly (readonly [RegExp, string])[] = [
  [/^(Repeat it: )?.{1,60} took it out:/, '$1A person took it out:'],
  [/^It rests on marks that .{1,60} moved:/, 'It rests on marks that a person moved:'],
  [/^It is read as .{1,60} said,/, 'It is read as a person said,'],
];

function fileName(path: string): string {
  return path.split('/').at(-1) ?? path;
}

/** Recordings of each condition by their values; those without one come last. */
function numbersOf(recordings: readonly Summary[]): ReadonlyMap<string, number> {
  const size = ({ timeConstant }: Summary) => timeConstant?.value ?? Number.POSITIVE_INFINITY;
  const numbers = new Map<string, number>();
  const counts = new Map<string, number>();
  for (const { path, place } of recordings.toSorted((a, b) => Math.sign(size(a) - size(b)) || 0)) {
    const condition = conditionWords(place.body, place.flow);
    const number = (counts.get(condition) ?? 0) + 1;
    counts.set(condition, number);
    numbers.set(path, number);
  }
  return numbers;
}

/** Codes of groups and benches as they stand in sentences. A code without a letter is one only behind its word. */
function codesOf(recordings: readonly Summary[]): readonly (readonly [RegExp, string])[] {
  const codes = new Map<string, 'group' | 'bench'>();
  for (const { place } of recordings) {
    if (place.bench !== null) codes.set(place.bench, 'bench');
    if (place.group !== null) codes.set(place.group, 'group');
  }
  const longestFirst = [...codes].sort(([a], [b]) => b.length - a.length);
  return longestFirst.map(([code, kind]) => {
    const written = code.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
    const plain = code.length > 1 && /\p{L}/u.test(code);
    const word = `(?:the )?${kind} `;
    const before = plain ? `(?:${word})?` : word;
    return [new RegExp(`(?<![\\p{L}\\p{N}_-])${before}${written}(?![\\p{L}\\p{N}_-])`, 'gu'), `a ${kind}`];
  });
}

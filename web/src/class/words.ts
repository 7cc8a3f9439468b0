import type { ClassView } from '../../../src/server/contract/index.ts';

/** How the class stands, in a sentence. */
export function standingWords({ recordings, counting, conditions, groups }: ClassView): string {
  if (recordings === 0) return 'There are no recordings here yet.';
  const of = groups.length === 0 ? '' : ` of ${groups.length} groups`;
  const many = conditions.length === 1 ? 'condition' : 'conditions';
  return `${counting} of ${recordings} recordings count${of}, for ${conditions.length} ${many}.`;
}

/** Why somebody is asked to look again, in as few words as a figure has room for. */
export const kindWords = {
  'same-trace': 'one trace in two files',
  label: 'cools like another body',
  apart: 'lies apart',
  whole: 'lies apart as a whole',
} as const;

/** What sets recordings apart in the collapse, by path. */
export function strayWords({ lookAgain }: ClassView): ReadonlyMap<string, string> {
  return new Map(
    lookAgain
      .filter(({ kind }) => kind !== 'whole')
      .flatMap(({ kind, paths }) => paths.map((path): [string, string] => [path, kindWords[kind]])),
  );
}

import { type ClassRecording, groupedByName } from './recording.ts';

/** Recordings that were not made where, or when, the roster has their group. */
export interface Visit {
  readonly kind: 'guest' | 'other-bench' | 'make-up';
  readonly group: string;
  readonly paths: readonly string[];
  readonly sentence: string;
}

/** So large a part of a section on one day makes another day a make-up session (common practice, no source). */
const usualPart = 0.6;

/**
 * Guests of another section, groups at another bench than their own, and make-up sessions. They count like all others:
 * bench, section and day are those of the recording.
 */
export function visitsIn(recordings: readonly ClassRecording[]): Visit[] {
  const dayOf = usualDays(recordings);
  const found = recordings.flatMap(
    (one): (Omit<Visit, 'paths' | 'sentence'> & { at: string; path: string })[] => {
      const { group, section, bench, day, home, path } = one;
      if (group === null) return [];
      const usual = dayOf.get(section ?? '') ?? null;
      return [
        ...(home.section !== null && section !== null && home.section !== section
          ? [{ kind: 'guest' as const, group, at: `section ${section}`, path }]
          : []),
        ...(home.bench !== null && bench !== null && home.bench !== bench
          ? [{ kind: 'other-bench' as const, group, at: bench, path }]
          : []),
        ...(usual !== null && day !== null && day !== usual
          ? [{ kind: 'make-up' as const, group, at: day, path }]
          : []),
      ];
    },
  );
  return [
    ...groupedByName(found, ({ kind, group, at }) => JSON.stringify([kind, group, at])).values(),
  ].flatMap((own) => {
    const [first] = own;
    if (first === undefined) return [];
    const { kind, group, at } = first;
    const count = own.length === 1 ? '1 recording' : `${own.length} recordings`;
    const words = {
      guest: `a guest in ${at}`,
      'other-bench': `at ${at}, not at its own bench`,
      'make-up': `made on ${at}, another day than most of its section`,
    }[kind];
    return [{ kind, group, paths: own.map(({ path }) => path), sentence: `${count} of ${group}: ${words}.` }];
  });
}

/** The day on which most of a section was recorded, for sections that have one. */
function usualDays(recordings: readonly ClassRecording[]): ReadonlyMap<string, string> {
  const days = new Map<string, string>();
  for (const [section, own] of groupedByName(recordings, (one) => one.section ?? '')) {
    const dated = own.flatMap(({ day }) => day ?? []);
    const [most] = [...groupedByName(dated, (day) => day)].sort((a, b) => b[1].length - a[1].length);
    if (most !== undefined && most[1].length >= usualPart * dated.length) days.set(section, most[0]);
  }
  return days;
}

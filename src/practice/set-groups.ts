import { type Experiment, entryOf } from '../experiment/index.ts';
import { PracticeError, type PracticeGroup } from './set-types.ts';

/** As many as an experiment file may list. */
const mostGroups = 500;
/** Benches of a course that lists none: enough for their files to differ. */
const usualBenches = ['bench-1', 'bench-2', 'bench-3', 'bench-4'];

/**
 * The groups of a practice set: those of the experiment file; without any, one for each bench of each section. More
 * than the file has are made up, with codes that it does not use.
 *
 * @param wanted how many; null for those of the file
 * @throws PracticeError for a number that a course cannot have
 */
export function practiceGroups(experiment: Experiment, wanted: number | null): PracticeGroup[] {
  if (wanted !== null && !(Number.isInteger(wanted) && wanted >= 1 && wanted <= mostGroups)) {
    throw new PracticeError(`There cannot be ${wanted} groups: ask for 1 to ${mostGroups}.`);
  }
  const listed = listedGroups(experiment);
  const known = listed.length > 0 ? listed : placesAsGroups(experiment);
  if (wanted === null) return known.length > 0 ? known : inventedGroups(experiment, [], 1);
  const kept = known.slice(0, wanted);
  return [...kept, ...inventedGroups(experiment, kept, wanted - kept.length)];
}

function benchesOf({ benches }: Experiment): readonly string[] {
  return benches.length > 0 ? benches : usualBenches;
}

function turn(list: readonly string[], at: number): string | null {
  return list[at % Math.max(1, list.length)] ?? null;
}

function listedGroups(experiment: Experiment): PracticeGroup[] {
  return Object.keys(experiment.groups).map((code, i) => {
    const { section, bench } = entryOf(experiment.groups, code) ?? {};
    return {
      code,
      section: section ?? null,
      bench: bench ?? turn(benchesOf(experiment), i) ?? '',
      invented: false,
    };
  });
}

/** Every bench of every section is a group, where the file lists both. */
function placesAsGroups({ sections, benches }: Experiment): PracticeGroup[] {
  const codes = new Set<string>();
  return sections
    .flatMap((section) => benches.map((bench) => ({ section, bench })))
    .slice(0, mostGroups)
    .map(({ section, bench }, i) => {
      const plain = `${section}-${bench}`;
      const code = plain.length <= 40 && !codes.has(plain.toLowerCase()) ? plain : `g${i + 1}`;
      codes.add(code.toLowerCase());
      return { code, section, bench, invented: true };
    });
}

/** Made-up groups fill one section after another, a bench each. */
function inventedGroups(
  experiment: Experiment,
  others: readonly PracticeGroup[],
  count: number,
): PracticeGroup[] {
  const used = new Set(others.map(({ code }) => code.toLowerCase()));
  for (const code of Object.keys(experiment.groups)) used.add(code.toLowerCase());
  const benches = benchesOf(experiment);
  const groups: PracticeGroup[] = [];
  for (let number = others.length + 1; groups.length < count; number++) {
    const code = `g${String(number).padStart(2, '0')}`;
    if (used.has(code)) continue;
    const place = others.length + groups.length;
    groups.push({
      code,
      section: turn(experiment.sections, Math.floor(place / benches.length)),
      bench: turn(benches, place) ?? '',
      invented: true,
    });
  }
  return groups;
}

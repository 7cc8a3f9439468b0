import {
  type Condition,
  type Experiment,
  isPlainName,
  parsePattern,
  recordingPlace,
  staysInside,
} from '../experiment/index.ts';
import { PracticeError, type PracticeGroup } from './set-types.ts';

/** One recording as far as its path goes. */
export interface Placed {
  readonly group: PracticeGroup;
  readonly condition: Condition;
  readonly repeat: number;
}

/** Where the paths of a set come from. */
export interface SetPaths {
  readonly pattern: string;
  readonly paths: readonly string[];
}

/** Taken where the file's own pattern does not tell all recordings apart; the second where codes run together. */
const usualPatterns: readonly string[] = [
  'recordings/{group}/{body}_{flow}_{repeat}',
  'recordings/{group}/{body}/{flow}/{repeat}',
];

/** The same inside a folder for each group. */
const exercisePatterns: readonly string[] = [
  '{group}/{body}_{flow}_{repeat}',
  '{group}/{body}/{flow}/{repeat}',
];

/** One ending for all: it must not tell one recording from another. */
const ending = '.txt';

/**
 * The paths of all recordings of a set, from its folder: by the pattern of the experiment file where that keeps them
 * apart, else by a usual one.
 *
 * @param experiment that lists all groups of the set
 * @param placed in the order of the set
 * @param exercise whether each group has a folder of its own
 * @throws PracticeError where no pattern keeps them apart
 */
export function setPaths(experiment: Experiment, placed: readonly Placed[], exercise: boolean): SetPaths {
  for (const { group, condition } of placed) {
    for (const code of [group.code, group.bench, condition.body, condition.flow]) {
      if (isPlainName(code)) continue;
      throw new PracticeError(
        `Not every system takes "${code}" for the name of a file: give group, bench, body or flow another code.`,
      );
    }
  }
  const own = experiment.recordings === undefined ? [] : [experiment.recordings];
  for (const pattern of exercise ? exercisePatterns : [...own, ...usualPatterns]) {
    const paths = filled(pattern, placed);
    if (paths !== null && readBack({ ...experiment, recordings: pattern }, placed, paths)) {
      return { pattern, paths };
    }
  }
  throw new PracticeError('No paths tell these recordings apart: give groups, bodies and flows other codes.');
}

/** Null where the pattern is none, names what a group does not have, or gives two recordings one path. */
function filled(pattern: string, placed: readonly Placed[]): string[] | null {
  const parsed = parsePattern(pattern);
  if (!parsed.ok) return null;
  const open = parsed.tokens.at(-1)?.kind === 'name';
  const paths: string[] = [];
  const seen = new Set<string>();
  for (const { group, condition, repeat } of placed) {
    const codes = {
      section: group.section,
      group: group.code,
      bench: group.bench,
      body: condition.body,
      flow: condition.flow,
      repeat: String(repeat),
    };
    const pieces = parsed.tokens.map((token) => (token.kind === 'text' ? token.text : codes[token.name]));
    if (pieces.includes(null)) return null;
    const path = `${pieces.join('')}${open ? ending : ''}`;
    if (!staysInside(path, 12) || seen.has(path.toLowerCase())) return null;
    seen.add(path.toLowerCase());
    paths.push(path);
  }
  return nested(seen) ? null : paths;
}

/** Whether one path is a folder of another. */
function nested(paths: ReadonlySet<string>): boolean {
  for (const path of paths) {
    const parts = path.split('/');
    for (let n = 1; n < parts.length; n++) if (paths.has(parts.slice(0, n).join('/'))) return true;
  }
  return false;
}

/** Whether each path says what it was made from. */
function readBack(experiment: Experiment, placed: readonly Placed[], paths: readonly string[]): boolean {
  return placed.every(({ condition, repeat }, i) => {
    const place = recordingPlace(experiment, paths[i] ?? '');
    if (place.kind === 'asked') return false;
    const { body, flow } = place;
    return body === condition.body && flow === condition.flow && (place.repeat ?? repeat) === repeat;
  });
}

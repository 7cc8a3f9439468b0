import type { PracticeSet } from '../practice/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/** A set that was made, and where it stands. */
export interface MadePractice {
  /** Of the experiment file. */
  readonly path: string;
  readonly out: string;
  readonly key: string;
  readonly set: PracticeSet;
  readonly exercise: boolean;
  readonly encrypted: boolean;
}

/** What was made, for the instructor: lines of at most 80 columns but for paths. */
export function presentPractice(
  { path, out, key, set, exercise, encrypted }: MadePractice,
  ink: Ink,
): string[] {
  const { recordings, groups, conditions, repeats } = set;
  const planted = recordings.filter(({ faults }) => faults.length > 0).length;
  const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;
  const invented = groups.filter((group) => group.invented).length;
  const size = [
    count(groups.length, 'group', 'groups') +
      (invented > 0 && invented < groups.length ? ` (${invented} made up)` : ''),
    count(conditions.length, 'condition', 'conditions'),
    `${count(repeats, 'trial', 'trials')} each`,
  ].join(', ');
  return [
    ink.strong(printable(out)),
    `  from       ${printable(path)}`,
    ...entry(
      'recordings',
      `${recordings.length}: ${size}${exercise ? '; a folder and a task for each group' : ''}`,
    ),
    ...entry(
      'faults',
      planted === 0 ? 'none' : `planted in ${count(planted, 'recording', 'recordings')}; the key names them`,
    ),
    `  key        ${printable(key)}`,
    ...entry(
      '',
      `${encrypted ? 'Encrypted with the passphrase. ' : ''}Keep it from those who get the recordings.`,
    ),
    ...entry('seed', `${printable(set.seed)}; with the same options it makes the same files`),
    '',
    'The answers:',
    `  emberline practice --answers ${printable(quoted(key))}`,
    ...(exercise
      ? []
      : [
          'The recordings, as those of a class:',
          ...['compare', 'class', 'mark'].map((verb) => `  emberline ${verb} ${printable(quoted(out))}`),
        ]),
  ];
}

/** As it would be typed. */
function quoted(path: string): string {
  return /^[\w./\\:-]+$/.test(path) ? path : `"${path}"`;
}

/** The same as programs read it. */
export function practiceAsJson({ path, out, key, set, exercise, encrypted }: MadePractice) {
  return {
    experiment: path,
    out,
    key,
    exercise,
    encrypted,
    seed: set.seed,
    pattern: set.pattern,
    groups: set.groups,
    recordings: set.recordings.map((one) => one.path),
    faults: set.recordings.filter(({ faults }) => faults.length > 0).length,
  };
}

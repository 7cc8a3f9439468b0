import { type Experiment, entryOf, fixedFolder, recordingPlace } from '../experiment/index.ts';
import type { PlaceView } from './contract/index.ts';

/** How the names of recordings end. */
export const recordingEnding = /\.(?:txt|csv|tsv|dat|asc|log|prn)(?:\.gz)?$/i;

/** Longest name in which codes are looked for. */
const longestName = 200;

/**
 * What the name of a file says: by the pattern of the experiment, or by its codes alone where they stand for one thing.
 * A number at the end that belongs to no code is taken for the repeat.
 *
 * @param name as the person's disk calls it
 * @returns null where it says nothing
 */
export function placeByName(experiment: Experiment, name: string): PlaceView | null {
  const plain = name.split(/[\\/]/).at(-1) ?? name;
  if (plain.length > longestName) return null;
  const read = recordingPlace(
    experiment,
    `${fixedFolder(experiment.recordings)}/${plain}`.replace(/^\//, ''),
  );
  if (read.kind === 'read') {
    const { section, group, bench, body, flow, repeat } = read;
    return { section, group, bench, body, flow, repeat };
  }
  const words = plain.replace(recordingEnding, '').toLowerCase();
  const body = onlyCode(words, Object.keys(experiment.bodies));
  const flow = onlyCode(words, Object.keys(experiment.flows));
  const group = onlyCode(words, Object.keys(experiment.groups));
  const repeat = lastNumber(withoutCodes(words, [body, flow, group]));
  if (body === null && flow === null && group === null && repeat === null) return null;
  const known = group === null ? undefined : entryOf(experiment.groups, group);
  return { section: known?.section ?? null, group, bench: known?.bench ?? null, body, flow, repeat };
}

/** The one code that stands in a text; of codes that hold each other, the longest. */
function onlyCode(words: string, codes: readonly string[]): string | null {
  const found = codes.filter((code) => placesOf(words, code).length > 0);
  const longest = found.filter(
    (code) => !found.some((other) => other !== code && placesOf(other.toLowerCase(), code).length > 0),
  );
  return longest.length === 1 ? (longest[0] ?? null) : null;
}

/** Where a code stands in a text with no letter or digit right beside it. */
function placesOf(words: string, code: string): number[] {
  const wanted = code.toLowerCase();
  const places: number[] = [];
  for (let at = words.indexOf(wanted); at !== -1; at = words.indexOf(wanted, at + 1)) {
    const around = `${words[at - 1] ?? ' '}${words[at + wanted.length] ?? ' '}`;
    if (!/[a-z0-9]/.test(around)) places.push(at);
  }
  return places;
}

function withoutCodes(words: string, codes: readonly (string | null)[]): string {
  const letters = words.split('');
  for (const code of codes) {
    for (const at of code === null ? [] : placesOf(words, code))
      letters.fill('#', at, at + (code?.length ?? 0));
  }
  return letters.join('');
}

/** A number from 1 to 99 at the end; not the last part of a date, a time or a decimal number. */
function lastNumber(words: string): number | null {
  const number = Number(/(?<!\d|\d[-_.:,])(\d{1,2})\)?$/.exec(words)?.[1] ?? 0);
  return number === 0 ? null : number;
}

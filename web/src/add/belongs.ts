import { buildPath, type Experiment, entryOf, parsePattern } from '../../../src/experiment/index.ts';
import type { KeepRequest, PlaceView } from '../../../src/server/contract/index.ts';

export type PlaceName = 'section' | 'group' | 'bench' | 'body' | 'flow' | 'repeat';

/** What a recording is of, as it stands in the fields; empty where nothing is chosen. */
export type PlaceFields = Readonly<Record<PlaceName, string>>;

const order: readonly PlaceName[] = ['section', 'group', 'bench', 'body', 'flow', 'repeat'];

/** The names that this experiment's paths ask for; body and flow always. */
export function namesAsked(experiment: Experiment): PlaceName[] {
  const pattern = experiment.recordings === undefined ? null : parsePattern(experiment.recordings);
  const named = pattern?.ok
    ? pattern.tokens.flatMap((token) => (token.kind === 'name' ? [token.name] : []))
    : [];
  return order.filter((name) => name === 'body' || name === 'flow' || named.includes(name));
}

/** The codes that a name may be; none for the repeat, which is a number. */
export function codesOf(experiment: Experiment, name: Exclude<PlaceName, 'repeat'>): string[] {
  switch (name) {
    case 'section':
      return experiment.sections;
    case 'bench':
      return experiment.benches;
    case 'group':
      return Object.keys(experiment.groups);
    case 'body':
      return Object.keys(experiment.bodies);
    case 'flow':
      return Object.keys(experiment.flows);
  }
}

/** Fields filled with what the name of the file says. */
export function placeFields(place: PlaceView | null): PlaceFields {
  return {
    section: place?.section ?? '',
    group: place?.group ?? '',
    bench: place?.bench ?? '',
    body: place?.body ?? '',
    flow: place?.flow ?? '',
    repeat: place?.repeat === null || place?.repeat === undefined ? '' : String(place.repeat),
  };
}

/** One field changed; a group brings its section and its bench along. */
export function withPlace(
  experiment: Experiment,
  fields: PlaceFields,
  name: PlaceName,
  value: string,
): PlaceFields {
  const changed = { ...fields, [name]: value };
  if (name !== 'group') return changed;
  const group = entryOf(experiment.groups, value);
  return {
    ...changed,
    section: group?.section ?? changed.section,
    bench: group?.bench ?? changed.bench,
  };
}

/**
 * The first repeat that no recording of the same condition and group has, from 1.
 *
 * @param taken what the recordings that are there are of
 */
export function nextRepeat(fields: PlaceFields, taken: readonly PlaceView[]): number {
  const same = taken.filter((place) =>
    order.every((name) => name === 'repeat' || fields[name] === '' || (place[name] ?? '') === fields[name]),
  );
  const numbers = new Set(same.map(({ repeat }) => repeat));
  let next = 1;
  while (numbers.has(next)) next += 1;
  return next;
}

/** Where the recording would go, or what is still to be said. */
export type Destination =
  | { readonly ok: true; readonly path: string; readonly request: KeepRequest }
  | { readonly ok: false; readonly message: string };

/** The place of a recording by the experiment's pattern; the ending is that of the file. */
export function destination(experiment: Experiment, fields: PlaceFields, file: string): Destination {
  const asked = namesAsked(experiment);
  const open = asked.filter((name) => fields[name] === '');
  if (open.length > 0) return { ok: false, message: `Still to be chosen: ${open.join(', ')}.` };
  const repeat = Number(fields.repeat);
  if (asked.includes('repeat') && !(Number.isInteger(repeat) && repeat >= 1 && repeat <= 99)) {
    return { ok: false, message: 'The repeat is a whole number from 1 to 99.' };
  }
  const named = (name: 'section' | 'group' | 'bench') =>
    asked.includes(name) && fields[name] !== '' ? { [name]: fields[name] } : {};
  const place = {
    ...named('section'),
    ...named('group'),
    ...named('bench'),
    body: fields.body,
    flow: fields.flow,
    ...(asked.includes('repeat') ? { repeat } : {}),
  };
  const built = buildPath(
    experiment,
    place,
    /\.[A-Za-z]{1,5}(?:\.gz)?$/.exec(file)?.[0].toLowerCase() ?? '.txt',
  );
  if (!built.ok) return { ok: false, message: `${built.message} ${built.mend}` };
  return { ok: true, path: built.path, request: { place } };
}

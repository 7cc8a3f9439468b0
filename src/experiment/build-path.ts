import { pathCodes } from './cross-check.ts';
import { entryOf } from './entry.ts';
import { parsePattern } from './path-pattern.ts';
import { staysInside } from './plain-path.ts';
import { recordingPlace } from './recording-place.ts';
import type { Experiment } from './schema-keys.ts';

/** What a recording is of, as a person says it. Section and bench follow from the group where they are not given. */
export interface NamedPlace {
  readonly section?: string | undefined;
  readonly group?: string | undefined;
  readonly bench?: string | undefined;
  readonly body: string;
  readonly flow: string;
  /** From 1 to 99. */
  readonly repeat?: number | undefined;
}

/** A path from the experiment folder, or what is missing. */
export type BuiltPath =
  | { readonly ok: true; readonly path: string }
  | { readonly ok: false; readonly message: string; readonly mend: string };

/**
 * The path of a recording by the pattern of the experiment file; the other way about than `recordingPlace`.
 *
 * @param place with codes of the experiment file
 * @param ending with its dot, as `.txt`; used where the pattern ends with a name
 * @returns a path that reads back as the same place and stays inside the folder on every system
 */
export function buildPath(experiment: Experiment, place: NamedPlace, ending: string): BuiltPath {
  const refuse = (message: string, mend: string): BuiltPath => ({ ok: false, message, mend });
  if (experiment.recordings === undefined) {
    return refuse(
      'The experiment file does not say how paths are built.',
      'Give it a pattern such as recordings: "recordings/{group}/{body}_{flow}_{repeat}".',
    );
  }
  const pattern = parsePattern(experiment.recordings);
  if (!pattern.ok)
    return refuse(pattern.message, 'Mend the pattern under recordings in the experiment file.');
  const group = place.group === undefined ? undefined : entryOf(experiment.groups, place.group);
  const codes = {
    section: place.section ?? group?.section,
    group: place.group,
    bench: place.bench ?? group?.bench,
    body: place.body,
    flow: place.flow,
  };
  const known = pathCodes(experiment);
  let path = '';
  for (const token of pattern.tokens) {
    if (token.kind === 'text') {
      path += token.text;
      continue;
    }
    if (token.name === 'repeat') {
      path += String(place.repeat ?? 1);
      continue;
    }
    const code = codes[token.name];
    if (code === undefined) {
      return refuse(`The paths of this experiment name the ${token.name}.`, `Say which ${token.name} it is.`);
    }
    if (!known[token.name].includes(code)) {
      return refuse(
        `There is no ${token.name} "${code}" in the experiment file.`,
        `Take one of its codes, or add this one to the file.`,
      );
    }
    path += code;
  }
  for (const name of ['body', 'flow'] as const) {
    if (known[name].includes(place[name])) continue;
    return refuse(`There is no ${name} "${place[name]}" in the experiment file.`, 'Take one of its codes.');
  }
  if (pattern.tokens.at(-1)?.kind === 'name') path += ending;
  if (!staysInside(path, 8)) {
    return refuse(
      `The path "${path}" is not one that every system takes.`,
      'Give the codes in it other names in the experiment file.',
    );
  }
  const back = recordingPlace(experiment, path);
  if (back.kind === 'asked' || !sameCodes(back, place)) {
    return refuse(
      `The path "${path}" would not say what the recording is of.`,
      'Mend the pattern under recordings: it should name {body} and {flow}, with marks between the names.',
    );
  }
  return { ok: true, path };
}

function sameCodes(
  back: { readonly body: string | null; readonly flow: string | null; readonly group: string | null },
  place: NamedPlace,
): boolean {
  const agrees = (read: string | null, said: string | undefined) => read === null || read === said;
  return back.body === place.body && back.flow === place.flow && agrees(back.group, place.group);
}

/** Changes of the experiment file as pure functions: what stands at a place, what a person typed, the text that results. */
import { type Document, isAlias, isMap, isScalar, parse, parseDocument } from 'yaml';
import { changeText } from '../../../src/experiment/index.ts';

/** A place in the file by its keys, as one text: keys may hold anything but a line feed. */
export type PlaceKey = string;

/** What a person typed, by place. */
export type Edits = Readonly<Record<PlaceKey, string>>;

export function keyOf(place: readonly string[]): PlaceKey {
  return place.join('\n');
}

function placeOf(key: PlaceKey): string[] {
  return key.split('\n');
}

/** The file as a tree that knows how everything was written. */
export function readTree(text: string): Document.Parsed {
  return parseDocument(text, { schema: 'core', prettyErrors: false, uniqueKeys: false, stringKeys: true });
}

/** What stands at a place, as it is written there; null where nothing does, or more than one value. */
export function writingAt(tree: Document.Parsed, place: readonly string[]): string | null {
  const node = nodeAt(tree, place);
  if (!isScalar(node) || node.value === null) return null;
  return node.source ?? String(node.value);
}

/** Whether a place holds keys of its own, or stands for another place: nothing that one line could change. */
export function isBranch(tree: Document.Parsed, place: readonly string[]): boolean {
  const node = nodeAt(tree, place);
  return node !== null && !isScalar(node);
}

/** Keys of a place, in the order of the file. */
export function keysAt(tree: Document.Parsed, place: readonly string[]): string[] {
  const node = place.length === 0 ? tree.contents : nodeAt(tree, place);
  if (!isMap(node)) return [];
  return node.items.flatMap(({ key }) => (isScalar(key) ? [String(key.value)] : []));
}

function nodeAt(tree: Document.Parsed, place: readonly string[]): unknown {
  let node: unknown = tree.contents;
  for (const key of place) {
    const map = isAlias(node) ? node.resolve(tree) : node;
    if (!isMap(map)) return null;
    node = map.items.find((pair) => isScalar(pair.key) && String(pair.key.value) === key)?.value ?? null;
  }
  return node;
}

/** What was typed as the file would read it: numbers as numbers, text as text, nothing as nothing. */
export function typedValue(typed: string): string | number | boolean | null {
  const text = typed.trim();
  if (text === '') return null;
  try {
    const value: unknown = parse(text, { schema: 'core' });
    if (typeof value === 'string' || typeof value === 'boolean') return value;
    if (typeof value === 'number' && Number.isFinite(value)) return value;
  } catch {
    // Not YAML by itself: it is text.
  }
  return text;
}

/** Edits that say something else than the file does. */
export function realEdits(tree: Document.Parsed, edits: Edits): Edits {
  return Object.fromEntries(
    Object.entries(edits).filter(([key, typed]) => {
      return typed.trim() !== (writingAt(tree, placeOf(key)) ?? '').trim();
    }),
  );
}

export type EditedText =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly place: readonly string[]; readonly message: string };

/** The text with the edits in it, as the server would write it. */
export function withEdits(text: string, edits: Edits): EditedText {
  return changeText(text, changesOf(edits));
}

/** The edits as the server is asked for them. */
export function changesOf(edits: Edits) {
  return Object.entries(edits).map(([key, typed]) => ({ place: placeOf(key), value: typedValue(typed) }));
}

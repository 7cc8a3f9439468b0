import { type Document, isAlias, isMap, isScalar, isSeq, type Pair, parseDocument, stringify } from 'yaml';
import { nestsTooDeep } from './yaml-nesting.ts';

/** A value as it is to be written at a place of an experiment file; null takes the key out. */
export interface TextChange {
  readonly place: readonly string[];
  readonly value: string | number | boolean | null;
}

/** The changed text, or why it was left alone. */
export type ChangedText =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly place: readonly string[]; readonly message: string };

/** A piece of a text to be put in place of another. */
interface Splice {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const largest = 1 << 18;
/** The text is read anew for each change; beyond this many characters in all it would take seconds. */
const mostRead = 4 << 20;
const parsing = { schema: 'core', prettyErrors: false, uniqueKeys: false, stringKeys: true } as const;

/**
 * Changes values in the text of an experiment file as a person with an editor would: only what changes is touched, and
 * comments, order, spaces and the way of writing stay.
 *
 * @param text of the file, at most 256 KiB
 * @param changes in the order in which they are made
 */
export function changeText(text: string, changes: readonly TextChange[]): ChangedText {
  let changed = text;
  let read = 0;
  for (const change of changes) {
    const { place } = change;
    if (changed.length > largest || nestsTooDeep(changed)) {
      return {
        ok: false,
        place,
        message: 'The file is larger or nested deeper than one that is written by hand.',
      };
    }
    read += changed.length;
    if (read > mostRead)
      return { ok: false, place, message: 'These are too many changes at once; make some first.' };
    const document = parseDocument(changed, parsing);
    if (document.errors.length > 0) {
      return { ok: false, place, message: 'The file is no YAML as it stands; mend it in an editor first.' };
    }
    const next = changeOne(document, changed, change);
    if (!next.ok) return next;
    changed = next.text;
  }
  return { ok: true, text: changed };
}

function changeOne(document: Document.Parsed, text: string, change: TextChange): ChangedText {
  const splice = spliceFor(document, text, change);
  if (splice === 'nothing') return { ok: true, text };
  if (splice !== 'unknown') {
    const next = text.slice(0, splice.from) + splice.text + text.slice(splice.to);
    if (says(next, change)) return { ok: true, text: next };
  }
  return rewritten(document, change);
}

/** Whether a text, read again, holds the value at its place. */
function says(text: string, { place, value }: TextChange): boolean {
  const document = parseDocument(text, parsing);
  if (document.errors.length > 0) return false;
  const pair = pairAt(document, place);
  if (value === null) return pair === null;
  return pair !== null && isScalar(pair.value) && String(pair.value.value) === String(value);
}

/** The whole text written anew from its tree, where no small change will do: comments and order stay, spaces may not. */
function rewritten(document: Document.Parsed, { place, value }: TextChange): ChangedText {
  const refuse = (message: string): ChangedText => ({ ok: false, place, message });
  try {
    if (value === null) document.deleteIn(place);
    else document.setIn(place, value);
    const text = document.toString({ lineWidth: 0 });
    return says(text, { place, value }) ? { ok: true, text } : refuse(elsewhere);
  } catch {
    return refuse(elsewhere);
  }
}

const elsewhere = 'This place of the file cannot be changed from here; change it in an editor.';

function spliceFor(
  document: Document.Parsed,
  text: string,
  { place, value }: TextChange,
): Splice | 'nothing' | 'unknown' {
  const pair = pairAt(document, place);
  if (value === null) return pair === null ? 'nothing' : removal(document, text, place);
  if (pair === null) return addition(document, text, place, value);
  if (!isScalar(pair.value) || pair.value.range === undefined || pair.value.range === null) return 'unknown';
  if (pair.value.value === value) return 'nothing';
  const [from, to] = pair.value.range;
  const inFlow = isInFlow(document, place);
  return { from, to, text: from === to ? ` ${written(value, inFlow)}` : written(value, inFlow) };
}

/** A value as YAML, in one line; inside braces, commas and brackets are put in quotes. */
function written(value: string | number | boolean, inFlow: boolean): string {
  if (typeof value === 'string' && /[\r\n]/.test(value)) return JSON.stringify(value);
  const plain = stringify(value, { lineWidth: 0 }).trimEnd();
  return inFlow && typeof value === 'string' && plain === value && /[,{}[\]]/.test(value)
    ? JSON.stringify(value)
    : plain;
}

/** A pair of a mapping by the keys that lead to it; null where there is none. */
function pairAt(document: Document.Parsed, place: readonly string[]): Pair | null {
  let node: unknown = document.contents;
  let found: Pair | null = null;
  for (const key of place) {
    found = pairOf(node, key);
    if (found === null) return null;
    node = found.value;
  }
  return found;
}

function pairOf(node: unknown, key: string): Pair | null {
  if (isSeq(node) && /^\d{1,6}$/.test(key)) {
    const item = node.items[Number(key)];
    // A list has no pairs; one of its items stands for a pair without a key.
    return item === undefined ? null : ({ key: null, value: item } as Pair);
  }
  if (!isMap(node)) return null;
  return node.items.find((item) => isScalar(item.key) && String(item.key.value) === key) ?? null;
}

function isInFlow(document: Document.Parsed, place: readonly string[]): boolean {
  let node: unknown = document.contents;
  for (const key of place) {
    if ((isMap(node) || isSeq(node)) && node.flow === true) return true;
    node = pairOf(node, key)?.value;
  }
  return false;
}

function lineStart(text: string, at: number): number {
  return text.lastIndexOf('\n', at - 1) + 1;
}

/** Just behind the end of the line that holds this place. */
function lineEnd(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  return end === -1 ? text.length : end + 1;
}

function offsetsOf(pair: Pair): { from: number; to: number } | null {
  if (!isScalar(pair.key) || !pair.key.range) return null;
  const value: unknown = pair.value;
  const range = isScalar(value) || isMap(value) || isSeq(value) || isAlias(value) ? value.range : null;
  return { from: pair.key.range[0], to: Math.max(pair.key.range[1], range?.[1] ?? 0) };
}

/** Takes a key out: its lines from a block, or itself and a comma from a mapping in braces. */
function removal(document: Document.Parsed, text: string, place: readonly string[]): Splice | 'unknown' {
  const parent = place.length === 1 ? document.contents : pairAt(document, place.slice(0, -1))?.value;
  const index = isMap(parent)
    ? parent.items.findIndex((item) => isScalar(item.key) && String(item.key.value) === place.at(-1))
    : -1;
  const pair = isMap(parent) ? parent.items[index] : undefined;
  const at = pair === undefined ? null : offsetsOf(pair);
  if (!isMap(parent) || at === null) return 'unknown';
  if (parent.flow !== true) {
    // The last key of a block takes its parent's value with it, which only the tree can put right.
    if (parent.items.length === 1) return 'unknown';
    const from = lineStart(text, at.from);
    if (text.slice(from, at.from).trim() !== '') return 'unknown';
    const end = text[at.to - 1] === '\n' ? at.to : lineEnd(text, at.to);
    return { from, to: end, text: '' };
  }
  const next = parent.items[index + 1];
  const nextAt = next === undefined ? null : offsetsOf(next);
  if (nextAt !== null) return { from: at.from, to: nextAt.from, text: '' };
  const before = parent.items[index - 1];
  const beforeAt = before === undefined ? null : offsetsOf(before);
  return { from: beforeAt === null ? at.from : beforeAt.to, to: at.to, text: '' };
}

/** Adds a key behind the last one of the nearest mapping that is there. */
function addition(
  document: Document.Parsed,
  text: string,
  place: readonly string[],
  value: string | number | boolean,
): Splice | 'unknown' {
  let depth = place.length - 1;
  let parent: unknown = null;
  for (; depth >= 0; depth--) {
    const pair = depth === 0 ? null : pairAt(document, place.slice(0, depth));
    parent = depth === 0 ? document.contents : pair?.value;
    if (depth === 0 || pair !== null) break;
  }
  if (!isMap(parent)) return 'unknown';
  const last = parent.items.at(-1);
  const at = last === undefined ? null : offsetsOf(last);
  if (at === null) return 'unknown';
  const missing = place.slice(depth);
  if (parent.flow === true) return { from: at.to, to: at.to, text: `, ${flowPair(missing, value)}` };
  const indent = at.from - lineStart(text, at.from);
  if (text.slice(at.from - indent, at.from).trim() !== '') return 'unknown';
  const end = text[at.to - 1] === '\n' ? at.to : lineEnd(text, at.to);
  const start = text[end - 1] === '\n' || end === 0 ? '' : '\n';
  const [key = '', ...rest] = missing;
  const content = rest.length === 0 ? written(value, false) : `{ ${flowPair(rest, value)} }`;
  return { from: end, to: end, text: `${start}${' '.repeat(indent)}${keyText(key)}: ${content}\n` };
}

function flowPair(keys: readonly string[], value: string | number | boolean): string {
  const [key = '', ...rest] = keys;
  return `${keyText(key)}: ${rest.length === 0 ? written(value, true) : `{ ${flowPair(rest, value)} }`}`;
}

/** Codes are read as text, so a number needs no quotes; anything that YAML might take for more than a word gets them. */
function keyText(key: string): string {
  return /^[A-Za-z0-9][A-Za-z0-9._-]*$/.test(key) ? key : JSON.stringify(key);
}

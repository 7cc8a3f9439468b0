import {
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  visit,
  type YAMLError,
} from 'yaml';
import type { z } from 'zod';
import { issueFaults, type PlacedFault, typeMessage } from './faults.ts';
import { nestsTooDeep } from './yaml-nesting.ts';

/** Something wrong in a text that a person wrote: where, what, and how to mend it. */
export interface FileFault {
  /** Line, counted from 1. */
  readonly line: number;
  /** The place by its keys, as `protocol › target`; empty for the whole file. */
  readonly place: string;
  /** What was wrong and what to write instead. */
  readonly message: string;
}

/** An experiment file that was understood, or everything that is wrong with it. */
export type Checked<T> =
  | {
      readonly ok: true;
      readonly value: T;
      /** Line of a place in the file, counted from 1. */
      lineOf(path: readonly PropertyKey[]): number;
    }
  | { readonly ok: false; readonly faults: readonly FileFault[] };

/** Experiment files are written by hand: anything larger is not one. */
const largestFile = 1 << 18;
/** A person mends some and runs again; more would only be scrolled past. */
const mostFaults = 50;

/**
 * Reads YAML and holds it against a schema, with line numbers for everything that does not fit.
 *
 * Hostile files are expected: size and nesting are bounded, aliases are limited in number (an alias can stand for a
 * tree of aliases), and tags beyond the core schema are refused.
 *
 * @param text a YAML 1.2 document, at most 256 KiB
 * @param schema what the document must fit
 */
export function parseChecked<S extends z.ZodType>(text: string, schema: S): Checked<z.output<S>> {
  if (text.length > largestFile) {
    return refuse('the file is larger than 256 KiB; an experiment file is written by hand and much smaller');
  }
  if (nestsTooDeep(text)) {
    return refuse('the text is nested too deep; an experiment file has no use for that');
  }
  const lines = new LineCounter();
  // Keys are kept as they are written: a code such as 060 is no number. Keys that stand twice are looked for below,
  // in one pass; the parser would compare each with each.
  const document = parseDocument(text, {
    lineCounter: lines,
    schema: 'core',
    prettyErrors: false,
    uniqueKeys: false,
    stringKeys: true,
  });
  const lineAt = (offset: number) => lines.linePos(offset).line;
  const broken = [
    ...[...document.errors, ...document.warnings].map((error) => ({
      line: lineAt(error.pos[0]),
      place: '',
      message: yamlMessage(error),
    })),
    ...oddKeys(document).map(({ key, offset, message }) => ({
      line: lineAt(offset),
      place: short(key),
      message,
    })),
  ];
  if (broken.length > 0) return { ok: false, faults: broken.slice(0, mostFaults) };

  let plain: unknown;
  try {
    plain = document.toJS({ maxAliasCount: 20 });
  } catch {
    return refuse('the file uses more YAML aliases than an experiment needs; write the values out');
  }
  const lineOf = (path: readonly PropertyKey[]) => {
    const offset = offsetOf(document, path);
    return offset === null ? 1 : lineAt(offset);
  };
  const checked = schema.safeParse(plain, { error: typeMessage });
  if (checked.success) return { ok: true, value: checked.data, lineOf };
  const found = checked.error.issues.flatMap((issue) => issueFaults(issue));
  const faults = found.slice(0, mostFaults).map(({ path, message }: PlacedFault): FileFault => {
    return { line: lineOf(path), place: path.map(String).map(short).join(' › '), message };
  });
  faults.sort((a, b) => a.line - b.line);
  const rest = found.length - mostFaults;
  return { ok: false, faults: rest > 0 ? [...faults, restOf(rest, faults)] : faults };
}

function yamlMessage({ code, message }: YAMLError): string {
  if (code === 'MULTIPLE_DOCS') return 'a second document begins here; keep one, without --- between';
  if (code === 'TAG_RESOLVE_FAILED') return `${message}; leave out what begins with an exclamation mark`;
  return `${message}; YAML wants "key: value" with the same indent for keys of one level`;
}

interface OddKey {
  readonly key: string;
  readonly offset: number;
  readonly message: string;
}

/** Keys that stand twice, and one that every schema would pass over without a word. */
function oddKeys(document: Document.Parsed): OddKey[] {
  const odd: OddKey[] = [];
  visit(document, {
    Map(_, map) {
      const seen = new Set<string>();
      for (const { key } of map.items) {
        if (!isScalar(key)) continue;
        const text = String(key.value);
        const offset = key.range?.[0] ?? 0;
        if (seen.has(text)) odd.push({ key: text, offset, message: standsTwice });
        if (text === '__proto__') odd.push({ key: text, offset, message: ofPrograms });
        seen.add(text);
      }
    },
  });
  return odd;
}

const standsTwice = 'keys must be unique: this one stands here twice; keep one';
const ofPrograms = 'programs use this word for themselves; take another';

/** Where the deepest part of a path that exists is written; null for the whole document. */
function offsetOf(document: Document.Parsed, path: readonly PropertyKey[]): number | null {
  let node: unknown = document.contents;
  let offset: number | null = null;
  for (const key of path) {
    const parent = isAlias(node) ? node.resolve(document) : node;
    const child = childOf(parent, key);
    if (child === null) return offset;
    offset = child.offset ?? offset;
    node = child.node;
  }
  return offset;
}

function childOf(parent: unknown, key: PropertyKey): { node: unknown; offset: number | null } | null {
  if (isMap(parent)) {
    const pair = parent.items.find((item) => isScalar(item.key) && String(item.key.value) === String(key));
    if (pair === undefined || !isScalar(pair.key)) return null;
    return { node: pair.value, offset: pair.key.range?.[0] ?? null };
  }
  if (!isSeq(parent)) return null;
  const item = parent.items[Number(key)];
  return item === undefined ? null : { node: item, offset: rangeOf(item) };
}

function rangeOf(item: unknown): number | null {
  return (item as Partial<Node>).range?.[0] ?? null;
}

function restOf(rest: number, faults: readonly FileFault[]): FileFault {
  const line = faults.at(-1)?.line ?? 1;
  return { line, place: '', message: `there are ${rest} more faults; mend these first` };
}

function short(text: string): string {
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

function refuse(message: string): { ok: false; faults: FileFault[] } {
  return { ok: false, faults: [{ line: 1, place: '', message }] };
}

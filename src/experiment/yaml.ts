import { isNode, LineCounter, parseDocument } from 'yaml';
import type { z } from 'zod';

/** Something wrong in a text that a person wrote: where, what, and how to mend it. */
export interface FileFault {
  /** Line, counted from 1. */
  readonly line: number;
  /** The place by its keys, as `protocol › target`; empty for the whole file. */
  readonly place: string;
  /** What was wrong and what to write instead. */
  readonly message: string;
}

export type Checked<T> =
  | { readonly ok: true; readonly value: T; lineOf(path: readonly PropertyKey[]): number }
  | { readonly ok: false; readonly faults: readonly FileFault[] };

/** Experiment files are written by hand: anything larger is not one. */
const largestFile = 1 << 20;

/**
 * Reads YAML and holds it against a schema, with line numbers for everything that does not fit.
 *
 * Hostile files are expected: aliases are limited in number (an alias can stand for a tree of aliases), tags
 * beyond the core schema are refused, and the size is bounded.
 *
 * @param text a YAML 1.2 document, at most 1 MiB
 * @param schema what the document must fit
 */
export function parseChecked<S extends z.ZodType>(text: string, schema: S): Checked<z.output<S>> {
  if (text.length > largestFile) {
    return refuse(1, 'the file is larger than 1 MiB; an experiment file is written by hand and much smaller');
  }
  const lines = new LineCounter();
  const document = parseDocument(text, {
    lineCounter: lines,
    schema: 'core',
    prettyErrors: false,
    uniqueKeys: true,
  });
  const broken = document.errors.map((error) => ({
    line: lines.linePos(error.pos[0]).line,
    place: '',
    message: `${error.message}; YAML wants "key: value" with the same indent for keys of one level`,
  }));
  if (broken.length > 0) return { ok: false, faults: broken };

  const lineOf = (path: readonly PropertyKey[]): number => {
    for (let depth = path.length; depth > 0; depth--) {
      const node = document.getIn(path.slice(0, depth), true);
      if (isNode(node) && node.range) return lines.linePos(node.range[0]).line;
    }
    return 1;
  };
  let plain: unknown;
  try {
    plain = document.toJS({ maxAliasCount: 20 });
  } catch {
    return refuse(1, 'the file uses more YAML aliases than an experiment needs; write the values out');
  }
  const checked = schema.safeParse(plain);
  if (checked.success) return { ok: true, value: checked.data, lineOf };
  const faults = checked.error.issues.flatMap((issue): FileFault[] => {
    if (issue.code === 'invalid_key') {
      return issue.issues.map(({ message }) => faultAt(issue.path, message, lineOf));
    }
    if (issue.code !== 'unrecognized_keys') return [faultAt(issue.path, issue.message, lineOf)];
    return issue.keys.map((key) => {
      return faultAt([...issue.path, key], 'there is no such key here; look for a slip of the pen', lineOf);
    });
  });
  return { ok: false, faults: faults.sort((a, b) => a.line - b.line) };
}

function faultAt(
  path: readonly PropertyKey[],
  message: string,
  lineOf: (path: readonly PropertyKey[]) => number,
): FileFault {
  return { line: lineOf(path), place: path.map(String).join(' › '), message };
}

function refuse(line: number, message: string): { ok: false; faults: FileFault[] } {
  return { ok: false, faults: [{ line, place: '', message }] };
}

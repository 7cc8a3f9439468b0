/** Edits that were not kept yet, over a reload of the page. Where the browser keeps nothing they last for the visit. */
import type { Edits } from './edits.ts';

function nameOf(folder: string): string {
  return `emberline plan ${folder}`;
}

export function unsavedEdits(folder: string): Edits {
  try {
    return editsFrom(sessionStorage.getItem(nameOf(folder)));
  } catch {
    return {};
  }
}

export function rememberEdits(folder: string, edits: Edits): void {
  try {
    if (Object.keys(edits).length === 0) sessionStorage.removeItem(nameOf(folder));
    else sessionStorage.setItem(nameOf(folder), JSON.stringify(edits));
  } catch {
    // A browser that keeps nothing: the edits live as long as the page.
  }
}

/** Edits from a text that anything may have written. */
export function editsFrom(text: string | null): Edits {
  if (text === null) return {};
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return {};
    const entries = Object.entries(value).filter((entry): entry is [string, string] => {
      return typeof entry[1] === 'string' && entry[1].length <= 400;
    });
    return Object.fromEntries(entries.slice(0, 200));
  } catch {
    return {};
  }
}

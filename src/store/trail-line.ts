import { createHash } from 'node:crypto';
import { type Deed, deeds } from './trail-deeds.ts';

/** What somebody did, as it is told to the trail. */
export interface TrailEntry {
  /** Who did it. Never a secret: what is written here can be read by whoever reads the folder. */
  readonly who: {
    /** `instructor`, `assistant`, `group`, `display`, `command line` or `server`. */
    readonly role: string;
    /** Code of the group; null for all others. */
    readonly group: string | null;
    /** What the person or place is called; may be empty. */
    readonly label: string;
  };
  readonly deed: Deed;
  /** Path of the file that it is about, from the folder, with / between its parts; null where it is about none. */
  readonly about?: string | null;
  /** SHA-256 of that file's bytes, in hexadecimal. */
  readonly sha256?: string | null;
  /** What else is worth knowing, in a few words. */
  readonly note?: string;
}

/** A line of the trail. */
export interface TrailLine {
  /** From 1, over all days. */
  readonly number: number;
  /** ISO 8601 with a zone. */
  readonly time: string;
  readonly role: string;
  readonly group: string;
  readonly label: string;
  /** In words; one of `deeds` where no person has changed it. */
  readonly done: string;
  readonly about: string;
  readonly sha256: string;
  readonly note: string;
  /** What binds it to the line before: see `chainOf`. */
  readonly chain: string;
}

const columns = [
  'number',
  'time',
  'role',
  'group',
  'who',
  'done',
  'file',
  'sha256',
  'note',
  'chain',
] as const;

/** First line of every file. */
export const trailHeader = columns.join('\t');

/** What the first line of all is bound to. */
export const firstChain = '0'.repeat(64);

/** Longest cells, characters: a path is a path, everything else is words. */
const longest = { words: 200, note: 1000, path: 4000 };

/** A line is never longer, bytes: every character may become six. */
export const longestLine = 1 << 16;

/**
 * SHA-256 of the chain of the line before, a line feed, and the line up to the tab before its own chain, in UTF-8. A
 * line that is changed, taken out or put elsewhere breaks it, as in linked time stamps (Haber and Stornetta 1991); one
 * who may write in the folder can write a whole new trail all the same.
 */
export function chainOf(before: string, bare: string): string {
  return createHash('sha256').update(`${before}\n${bare}`, 'utf8').digest('hex');
}

/**
 * An entry as a line, without its line feed.
 *
 * @param before the chain of the line before
 * @param time ISO 8601 with a zone
 */
export function lineOf(
  entry: TrailEntry,
  number: number,
  time: string,
  before: string,
): { readonly text: string; readonly chain: string } {
  const { who, deed, about = null, sha256 = null, note = '' } = entry;
  const bare = [
    String(number),
    time,
    cell(who.role, longest.words),
    cell(who.group ?? '', longest.words),
    cell(who.label, longest.words),
    deeds[deed],
    cell(about ?? '', longest.path),
    cell(sha256 ?? '', 64),
    cell(note, longest.note),
  ].join('\t');
  const chain = chainOf(before, bare);
  return { text: `${bare}\t${chain}`, chain };
}

/** A line of a file; null where it is none. */
export function readLine(text: string): TrailLine | null {
  const cells = text.split('\t');
  const [number = '', time = '', ...rest] = cells;
  const chain = cells.at(-1) ?? '';
  if (cells.length !== columns.length || !/^[1-9]\d{0,14}$/.test(number) || !/^[0-9a-f]{64}$/.test(chain)) {
    return null;
  }
  const [role = '', group = '', label = '', done = '', about = '', sha256 = '', note = ''] = rest.map(uncell);
  return { number: Number(number), time, role, group, label, done, about, sha256, note, chain };
}

/** A line without its chain, as the chain is made from it. */
export function bareLine(text: string): string {
  return text.slice(0, text.lastIndexOf('\t'));
}

// Control characters, marks that turn the direction of writing, ends of lines and paragraphs, halves of characters.
const unsafe =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not get into the file
  /[\\\u0000-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ud800-\udfff]/gu;

/** What a spreadsheet would take for a formula (OWASP, CSV injection), and the mark that keeps it from doing so. */
const formula = /^['=+\-@\uff1d\uff0b\uff0d\uff20]/;

/** A text as a cell that no program takes for anything but text; `uncell` gives it back. */
function cell(text: string, most: number): string {
  const cut = [...text].slice(0, most).join('');
  const safe = cut.replace(unsafe, (c) => {
    return c === '\\' ? '\\\\' : `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`;
  });
  return formula.test(safe) ? `'${safe}` : safe;
}

function uncell(written: string): string {
  const text = written.startsWith("'") ? written.slice(1) : written;
  return text.replace(/\\(?:\\|u([0-9a-f]{4}))/g, (_, code: string | undefined) => {
    return code === undefined ? '\\' : String.fromCharCode(Number.parseInt(code, 16));
  });
}

import { optionsOf, type PathCodes, type PathName, type PathToken } from './path-pattern.ts';

/** What a path says of a recording, by name; only what the pattern names. */
type NamedCodes = Partial<Readonly<Record<PathName, string>>>;

/** A path held against a pattern. What is `asked` is for a person to answer: nothing is guessed. */
export type PathMatch =
  | { readonly kind: 'read'; readonly codes: NamedCodes }
  | {
      readonly kind: 'asked';
      readonly reason: 'no-fit' | 'unknown-code' | 'two-ways';
      /** One sentence: what is not clear. */
      readonly message: string;
    };

/** Endings that a recording may have where the pattern names none. */
const ending = /\.(txt|csv|tsv|dat|asc|log|prn)(\.gz)?$/i;
/** Longer paths are not looked at. */
const longest = 400;

/**
 * Reads a recording's path by a pattern.
 *
 * @param path from the experiment folder, with / or \ between its parts
 * @param tokens of the pattern
 * @param codes that the names stand for
 */
export function matchPath(path: string, tokens: readonly PathToken[], codes: PathCodes): PathMatch {
  const normal = path.replaceAll('\\', '/').replace(/^(?:\.\/)+/, '');
  const open = tokens.at(-1)?.kind === 'name';
  const text = open ? normal.replace(ending, '') : normal;
  if (normal.length > longest || (open && text === normal)) return asked('no-fit', noFit(tokens));
  const known = tokens.map((token) => optionsOf(token, codes));
  const readings = read(text, known);
  if (readings.length > 1) {
    const shown = readings.map((pieces) => describe(tokens, pieces)).join('; or ');
    return asked('two-ways', `The path can be read in two ways: ${shown}.`);
  }
  const [reading] = readings;
  if (reading !== undefined) return { kind: 'read', codes: namesOf(tokens, reading) };
  return asUnknown(text, tokens, known) ?? asked('no-fit', noFit(tokens));
}

type Choice = readonly string[] | 'any';

/** Where one code alone is not in the file, it is named. */
function asUnknown(
  text: string,
  tokens: readonly PathToken[],
  known: readonly (readonly string[])[],
): PathMatch | null {
  const strangers = new Set<string>();
  for (const [place, token] of tokens.entries()) {
    if (token.kind === 'text') continue;
    for (const reading of read(
      text,
      known.map((list, i): Choice => (i === place ? 'any' : list)),
    )) {
      strangers.add(
        token.name === 'repeat'
          ? `"${reading[place] ?? ''}" is not a repeat from 1 to 99`
          : `${token.name} "${reading[place] ?? ''}" is not in the experiment file`,
      );
    }
  }
  if (strangers.size === 0) return null;
  return asked('unknown-code', `In the path, ${[...strangers].join(', or ')}.`);
}

/** Up to two ways of cutting a text into one choice of each piece. */
function read(text: string, choices: readonly Choice[]): string[][] {
  const found: string[][] = [];
  const dead = new Set<number>();
  const pieces: string[] = [];
  const from = (place: number, at: number): boolean => {
    if (place === choices.length) {
      if (at === text.length) found.push([...pieces]);
      return at === text.length;
    }
    const key = place * (longest + 1) + at;
    if (dead.has(key)) return false;
    let alive = false;
    for (const piece of piecesAt(text, at, choices[place] ?? [])) {
      pieces.push(piece);
      if (from(place + 1, at + piece.length)) alive = true;
      pieces.pop();
      if (found.length > 1) return true;
    }
    if (!alive) dead.add(key);
    return alive;
  };
  from(0, 0);
  return found;
}

function piecesAt(text: string, at: number, choice: Choice): readonly string[] {
  if (choice !== 'any') return choice.filter((option) => text.startsWith(option, at));
  const free = /^[^/]{1,100}/.exec(text.slice(at))?.[0] ?? '';
  return Array.from({ length: free.length }, (_, i) => free.slice(0, i + 1));
}

function namesOf(tokens: readonly PathToken[], pieces: readonly string[]): NamedCodes {
  const named = tokens.flatMap((token, i) => (token.kind === 'name' ? [[token.name, pieces[i] ?? '']] : []));
  return Object.fromEntries(named);
}

function describe(tokens: readonly PathToken[], pieces: readonly string[]): string {
  return Object.entries(namesOf(tokens, pieces))
    .map(([name, code]) => `${name} ${code}`)
    .join(', ');
}

function noFit(tokens: readonly PathToken[]): string {
  const pattern = tokens.map((token) => (token.kind === 'text' ? token.text : `{${token.name}}`)).join('');
  return `The path does not fit the pattern ${pattern}.`;
}

function asked(reason: 'no-fit' | 'unknown-code' | 'two-ways', message: string): PathMatch {
  return { kind: 'asked', reason, message };
}

/** What a recording's path can name. */
export const pathNames = ['section', 'group', 'bench', 'body', 'flow', 'repeat'] as const;
/** What the path of a recording can name. */
export type PathName = (typeof pathNames)[number];

/** A piece of a pattern: text that stands as it is, or a name in braces. */
export type PathToken =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'name'; readonly name: PathName };

/** The codes that each name may stand for. */
export type PathCodes = Readonly<Record<Exclude<PathName, 'repeat'>, readonly string[]>>;

/** A pattern that was understood, or what is wrong with it. */
export type ParsedPattern =
  | { readonly ok: true; readonly tokens: readonly PathToken[] }
  | { readonly ok: false; readonly message: string };

const known = pathNames.map((name) => `{${name}}`).join(', ');

/**
 * Takes a pattern such as `recordings/{section}/{body}_{flow}-{repeat}` apart.
 *
 * @param pattern path from the experiment folder, with names in braces; parts separated by /
 */
export function parsePattern(pattern: string): ParsedPattern {
  const fail = (message: string): ParsedPattern => ({ ok: false, message });
  if (/[\\*?]/.test(pattern)) {
    return fail('Separate folders by / and leave * and ? out; without an ending, the pattern takes any.');
  }
  if (/^\/|^[A-Za-z]:|(^|\/)\.{0,2}(\/|$)/.test(pattern)) {
    return fail(
      'Write a path from the folder of this file, without a leading / and without . or .. as parts.',
    );
  }
  const tokens: PathToken[] = [];
  const seen = new Set<string>();
  for (const piece of pattern.split(/(\{[^{}]*\})/).filter((text) => text !== '')) {
    const inner = /^\{(.*)\}$/.exec(piece)?.[1];
    if (inner === undefined) {
      if (/[{}]/.test(piece)) return fail('A brace has no partner. Write names as {body}.');
      tokens.push({ kind: 'text', text: piece });
      continue;
    }
    const name = pathNames.find((one) => one === inner);
    if (name === undefined) return fail(`{${inner}} is not a name here. Write one of ${known}.`);
    if (seen.has(name)) return fail(`{${name}} stands there twice. Name it once.`);
    seen.add(name);
    tokens.push({ kind: 'name', name });
  }
  return { ok: true, tokens };
}

/** Repeats are written as 1 to 99, or 01 to 09. */
const repeats = Array.from({ length: 99 }, (_, i) => String(i + 1)).flatMap((text) => {
  return text.length === 1 ? [text, `0${text}`] : [text];
});

/** Every text that a piece can stand for. */
export function optionsOf(token: PathToken, codes: PathCodes): readonly string[] {
  if (token.kind === 'text') return [token.text];
  return token.name === 'repeat' ? repeats : codes[token.name];
}

/** The folders before the first name of a pattern: where its recordings are looked for. */
export function fixedFolder(pattern: string | undefined): string {
  const parsed = pattern === undefined ? null : parsePattern(pattern);
  const first = parsed?.ok ? parsed.tokens[0] : undefined;
  const text = first?.kind === 'text' ? first.text : '';
  return text.slice(0, Math.max(0, text.lastIndexOf('/')));
}

/** A fenced block of a page. */
export interface Block {
  /** What stands behind the fence: a language, and for a file to be written its path. */
  readonly language: string;
  readonly file: string | null;
  readonly lines: readonly string[];
}

/** A fence may stand inside a list, so far to the right. */
const fenced = /^( *)```(.*)\n([\s\S]*?)^\1```/gm;

/** The fenced blocks of a page, without the blanks that put them into a list. */
export function blocksIn(text: string): Block[] {
  return [...text.matchAll(fenced)].map(([, indent = '', heading = '', body = '']) => {
    const [language = '', file = null] = heading.trim().split(' ');
    const lines = body
      .trimEnd()
      .split('\n')
      .map((line) => (line.startsWith(indent) ? line.slice(indent.length) : line));
    return { language, file, lines };
  });
}

/** The page without its fenced blocks. */
export function withoutBlocks(text: string): string {
  return text.replaceAll(fenced, '');
}

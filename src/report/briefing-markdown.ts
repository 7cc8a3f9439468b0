import type { Block, Inline, Text } from './document.ts';

/** A picture beside the own words. */
export interface OwnPicture {
  readonly bytes: Uint8Array;
  readonly type: 'image/png' | 'image/jpeg';
}

/** Own words as blocks, and what in them could not be used. */
export interface OwnWords {
  readonly blocks: readonly Block[];
  /** One sentence each: what was left out, in which line, and what to write. */
  readonly faults: readonly string[];
}

/** Longest text that is read, characters, and most lines. */
const longest = 65_536;

/**
 * Reads a small part of Markdown: paragraphs, lists with `-`, `*` or `1.`, emphasis, strong, code, and pictures on a
 * line of their own by the names of files that lie beside the text. Anything else is shown as it was typed.
 *
 * @param text of one file
 * @param pictures by name
 */
export function ownWords(text: string, pictures: ReadonlyMap<string, OwnPicture>): OwnWords {
  const blocks: Block[] = [];
  const faults: string[] = [];
  let paragraph: string[] = [];
  let list: { ordered: boolean; items: string[] } | null = null;
  const end = () => {
    if (paragraph.length > 0) blocks.push({ kind: 'paragraph', text: inlines(paragraph.join(' ')) });
    if (list !== null) {
      blocks.push({ kind: 'list', ordered: list.ordered, items: list.items.map(inlines) });
    }
    paragraph = [];
    list = null;
  };
  if (text.length > longest) faults.push(`Only the first ${longest} characters are used: shorten the text.`);
  const lines = text.slice(0, longest).split(/\r\n?|\n/);
  for (const [i, raw] of lines.entries()) {
    const line = raw.trim();
    const item = /^(?:([-*+])|\d{1,4}[.)])\s+(\S.*)$/.exec(line);
    const picture = /^!\[([^\]]*)\]\(([^()]*)\)$/.exec(line);
    const heading = /^#{1,6}\s+(\S.*)$/.exec(line);
    if (line === '') end();
    else if (picture !== null) {
      end();
      const [, alt = '', name = ''] = picture;
      const found = pictureBlock(alt, name.trim(), pictures);
      if (typeof found === 'string') faults.push(`Line ${i + 1}: ${found}`);
      else blocks.push(found);
    } else if (heading !== null) {
      end();
      blocks.push({ kind: 'paragraph', text: [{ kind: 'strong', text: heading[1] ?? '' }] });
    } else if (item !== null) {
      const ordered = item[1] === undefined;
      if (list === null || list.ordered !== ordered) {
        end();
        list = { ordered, items: [] };
      }
      list.items.push(item[2] ?? '');
    } else if (list !== null && /^\s/.test(raw)) {
      const last = list.items.length - 1;
      list.items[last] = `${list.items[last] ?? ''} ${line}`;
    } else {
      if (list !== null) end();
      paragraph.push(line);
    }
  }
  end();
  return { blocks, faults };
}

function pictureBlock(alt: string, name: string, pictures: ReadonlyMap<string, OwnPicture>): Block | string {
  const found = pictures.get(name);
  if (found === undefined) {
    const shown = JSON.stringify(name.slice(0, 100));
    return `there is no picture ${shown} that can be used. Put a PNG or JPEG file into the folder briefing and write its name alone.`;
  }
  const words = alt.trim();
  if (words === '') {
    return `the picture ${name} has no words. Write what it shows between the brackets, for those who do not see it.`;
  }
  return { kind: 'picture', picture: { ...found, alt: words, caption: words, width: 0.8 } };
}

/** `**strong**`, `*emphasis*`, `_emphasis_` and `` `code` `` within a line. None holds another. */
function inlines(line: string): Text {
  const parts: Inline[] = [];
  const marks = /\*\*([^*]{1,500})\*\*|\*([^*\s][^*]{0,500})\*|\b_([^_]{1,500})_\b|`([^`]{1,500})`/g;
  let from = 0;
  for (const found of line.matchAll(marks)) {
    if (found.index > from) parts.push(line.slice(from, found.index));
    const [whole, strong, starred, underlined, code] = found;
    const emphasis = starred ?? underlined;
    if (strong !== undefined) parts.push({ kind: 'strong', text: strong });
    else if (emphasis !== undefined) parts.push({ kind: 'emphasis', text: emphasis });
    else parts.push({ kind: 'code', text: code ?? '' });
    from = found.index + whole.length;
  }
  if (from < line.length) parts.push(line.slice(from));
  return parts;
}

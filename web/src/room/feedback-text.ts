/** The text of the feedback in the parts that it is made of; what it has beyond them stays plain words. */

type Block =
  | { readonly kind: 'heading' | 'paragraph'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] };

/** Headings, lists and paragraphs of a text. */
export function blocksOf(text: string): readonly Block[] {
  const blocks: Block[] = [];
  for (const part of text.split(/\n\s*\n/)) {
    let lines: string[] = [];
    let items: string[] = [];
    const end = () => {
      if (lines.length > 0) blocks.push({ kind: 'paragraph', text: lines.join(' ') });
      if (items.length > 0) blocks.push({ kind: 'list', items });
      lines = [];
      items = [];
    };
    for (const line of part.split('\n').map((one) => one.trim())) {
      const heading = /^#{1,6}\s+(.*)$/.exec(line)?.[1];
      const item = /^[-*]\s+(.*)$/.exec(line)?.[1];
      if (heading !== undefined) {
        end();
        blocks.push({ kind: 'heading', text: heading });
      } else if (item !== undefined) {
        if (lines.length > 0) end();
        items.push(item);
      } else if (line !== '') {
        if (items.length > 0) end();
        lines.push(line);
      }
    }
    end();
  }
  return blocks;
}

/** Words with emphasis; a backslash before a sign takes its meaning. */
export function spansOf(text: string): readonly { readonly text: string; readonly strong: boolean }[] {
  return text
    .split(/(?<!\\)\*\*/)
    .map((part, i) => ({ text: part.replace(/\\([!-/:-@[-`{-~])/g, '$1'), strong: i % 2 === 1 }))
    .filter((span) => span.text !== '');
}

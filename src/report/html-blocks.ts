import { decimalsBehind, padded } from './decimal.ts';
import type { Block, DocumentTable, Inline, Text } from './document.ts';
import { escapeHtml } from './escape.ts';
import { mathMarkup } from './math.ts';
import { remarkWords } from './remark-words.ts';

/** Blocks as HTML. `notes` are left to whoever shows slides. */
export function blocksHtml(blocks: readonly Block[]): string {
  return blocks.map(blockHtml).join('\n');
}

function blockHtml(block: Block): string {
  switch (block.kind) {
    case 'heading':
      return `<h${block.level + 1}>${escapeHtml(block.text)}</h${block.level + 1}>`;
    case 'paragraph':
      return `<p>${textHtml(block.text)}</p>`;
    case 'list': {
      const tag = block.ordered ? 'ol' : 'ul';
      return `<${tag}>${block.items.map((item) => `<li>${textHtml(item)}</li>`).join('')}</${tag}>`;
    }
    case 'facts':
      return `<dl>${block.rows
        .map(([name, value]) => `<dt>${escapeHtml(name)}</dt><dd>${textHtml(value)}</dd>`)
        .join('')}</dl>`;
    case 'table':
      return tableHtml(block.table);
    case 'figure': {
      const { svg, alt, caption, width, table } = block.figure;
      const drawn = `<div class="scroll" tabindex="0" role="group" aria-label="figure"><div class="drawing" role="img" aria-label="${escapeHtml(alt)}">${svg}</div></div>`;
      const behind =
        table === null
          ? ''
          : `<details><summary>The numbers behind it</summary>${tableHtml(table)}</details>`;
      return figureHtml(drawn, caption, width, behind);
    }
    case 'picture': {
      const { bytes, type, alt, caption, width } = block.picture;
      const data = Buffer.from(bytes).toString('base64');
      return figureHtml(
        `<img src="data:${type};base64,${data}" alt="${escapeHtml(alt)}">`,
        caption,
        width,
        '',
      );
    }
    case 'formula': {
      const source = block.source === null ? '' : `<p class="source">${escapeHtml(block.source)}</p>`;
      return `<div class="formula"><div class="scroll" tabindex="0" role="group" aria-label="formula">${mathHtml(block.tex, block.plain, true)}</div>${source}</div>`;
    }
    case 'remark': {
      const action = block.action === null ? '' : ` <em>${escapeHtml(block.action)}</em>`;
      return `<p class="remark ${block.severity}"><strong>${remarkWords(block.number, block.severity)}</strong>${escapeHtml(block.message)}${action}</p>`;
    }
    case 'caution':
      return `<p class="care"><strong>Take care.</strong> ${textHtml(block.text)}</p>`;
    case 'notes':
      return '';
    case 'page-break':
      return '<div class="page-break"></div>';
  }
}

/** Widths by steps of a tenth, so that no element carries a style of its own. */
function figureHtml(drawn: string, caption: Text | null, width: number, behind: string): string {
  const tenths = Math.min(10, Math.max(1, Math.round(width * 10)));
  const words = caption === null ? '' : `<figcaption>${textHtml(caption)}</figcaption>`;
  return `<figure class="w${tenths}">${drawn}${words}${behind}</figure>`;
}

function tableHtml({ caption, columns, rows, byHand }: DocumentTable): string {
  const behind = columns.map(({ align }, i) =>
    align === 'decimal' ? decimalsBehind(rows.map((row) => row[i] ?? '')) : null,
  );
  const alignOf = (i: number) => (columns[i]?.align === 'start' ? '' : ' class="number"');
  const cell = (text: Text, i: number) => {
    const most = behind[i] ?? null;
    const hidden = most === null ? '' : padded(text, most);
    const rest = hidden === '' ? '' : `<span class="unseen" aria-hidden="true">${hidden}</span>`;
    return `<td${alignOf(i)}>${textHtml(text)}${rest}</td>`;
  };
  const head = columns
    .map(({ title }, i) => `<th scope="col"${alignOf(i)}>${escapeHtml(title)}</th>`)
    .join('');
  const body = rows
    .map((row) => `<tr>${columns.map((_, i) => cell(row[i] ?? '', i)).join('')}</tr>`)
    .join('');
  const words = caption === null ? '' : `<caption><span>${escapeHtml(caption)}</span></caption>`;
  return `<div class="scroll" tabindex="0" role="group" aria-label="${escapeHtml(caption ?? 'table')}"><table${
    byHand === true ? ' class="by-hand"' : ''
  }>${words}<thead><tr>${head}</tr></thead><tbody>${body}</tbody></table></div>`;
}

/** Runs of text as HTML. */
export function textHtml(text: Text): string {
  return (typeof text === 'string' ? [text] : text).map(inlineHtml).join('');
}

function inlineHtml(inline: Inline): string {
  if (typeof inline === 'string') return escapeHtml(inline);
  switch (inline.kind) {
    case 'strong':
      return `<strong>${escapeHtml(inline.text)}</strong>`;
    case 'emphasis':
      return `<em>${escapeHtml(inline.text)}</em>`;
    case 'code':
      return `<code>${escapeHtml(inline.text)}</code>`;
    case 'math':
      return mathHtml(inline.tex, inline.plain, false);
  }
}

function mathHtml(tex: string, plain: string, display: boolean): string {
  return mathMarkup(tex, display).replace('<math ', `<math aria-label="${escapeHtml(plain)}" `);
}

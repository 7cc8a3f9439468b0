import type { Block, Report, Text } from './document.ts';
import { escapeHtml } from './escape.ts';
import { wholePage } from './html.ts';
import { blocksHtml, textHtml } from './html-blocks.ts';
import { fontFaces } from './html-style.ts';
import { slidesScript } from './slides-script.ts';
import { slidesStyle } from './slides-style.ts';

/** One slide: what stands on it, and what is for the speaker alone. */
interface Slide {
  readonly title: string;
  /** The part that it belongs to, where its title is another. */
  readonly part: string | null;
  readonly blocks: readonly Block[];
  readonly notes: readonly Text[];
}

interface GrowingSlide extends Slide {
  readonly blocks: Block[];
  readonly notes: Text[];
}

/**
 * A document as slides: one HTML file that needs nothing else and opens by a double click. Arrows, space, Home and End
 * move, n shows the notes for the speaker, d opens a window for the speaker's desk with notes, time and what comes
 * next, l lists all slides; an address that ends in #3 opens the third. Printed, all stands one below the other, without notes.
 *
 * @throws Error where a formula cannot be set
 */
export async function slidesHtml(report: Report): Promise<string> {
  const slides = slidesOf(report);
  const body = `<main>
${slides.map((slide, i) => slideHtml(slide, i, report)).join('\n')}
</main>
<nav class="overview" aria-label="All slides"><h2>All slides</h2><ol>${slides
    .map(({ title }, i) => `<li><a href="#${i + 1}">${escapeHtml(title)}</a></li>`)
    .join('')}</ol></nav>
<div class="bar" role="group" aria-label="Slides"><button type="button" data-does="back" aria-keyshortcuts="ArrowLeft">Back</button><button type="button" data-does="on" aria-keyshortcuts="ArrowRight">Next</button><button type="button" data-does="notes" aria-pressed="false" aria-keyshortcuts="n">Notes</button><button type="button" data-does="speaker" aria-keyshortcuts="d">Desk window</button><button type="button" data-does="overview" aria-pressed="false" aria-keyshortcuts="l">List</button><output></output></div>
<aside class="desk" aria-label="For the speaker"><p><span class="desk-time"></span> <span class="desk-small">since the beginning, at <span class="desk-day"></span></span> <button type="button" data-does="again">begin again</button></p><p class="desk-small">Next: <strong class="desk-next"></strong></p><div class="desk-notes" aria-live="polite"></div></aside>
<footer>${escapeHtml(report.foot)}</footer>`;
  return wholePage({
    title: report.title,
    style: (await fontFaces()) + slidesStyle,
    body,
    script: slidesScript,
  });
}

/** Slides begin at the headings of the first and the second level; the first one carries the title. */
function slidesOf({ title, subtitle, blocks }: Report): Slide[] {
  const slides: GrowingSlide[] = [];
  let current: GrowingSlide = { title, part: null, blocks: [], notes: [] };
  let part: string | null = null;
  const end = () => {
    const first = slides.length === 0;
    if (first || current.blocks.length > 0) slides.push(current);
  };
  if (subtitle !== null) current.blocks.push({ kind: 'paragraph', text: subtitle });
  for (const block of blocks) {
    if (block.kind === 'heading' && block.level < 3) {
      end();
      if (block.level === 1) part = block.text;
      current = { title: block.text, part: block.level === 1 ? null : part, blocks: [], notes: [] };
    } else if (block.kind === 'notes') current.notes.push(block.text);
    else if (block.kind !== 'page-break') current.blocks.push(block);
  }
  end();
  return slides;
}

function slideHtml({ title, part, blocks, notes }: Slide, index: number, report: Report): string {
  const tag = index === 0 ? 'h1' : 'h2';
  const above = part === null ? '' : `<p class="part">${escapeHtml(part)}</p>`;
  const said =
    notes.length === 0
      ? ''
      : `<aside class="notes" aria-label="Notes for the speaker"><h3>For the speaker</h3>${notes
          .map((text) => `<p>${textHtml(text)}</p>`)
          .join('')}</aside>`;
  return `<section class="slide" aria-label="${index + 1}: ${escapeHtml(title)}">${above}<${tag} tabindex="-1">${escapeHtml(
    index === 0 ? report.title : title,
  )}</${tag}>${blocksHtml(blocks)}${said}</section>`;
}

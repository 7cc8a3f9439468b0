import { type OwnPicture, ownWords } from './briefing-markdown.ts';
import { type BriefingPart, briefingParts } from './briefing-types.ts';
import type { Block } from './document.ts';

/** Texts and pictures as the store reads them from `briefing/`. */
export interface OwnFolder {
  /** By name without ending. */
  readonly texts: ReadonlyMap<string, string>;
  readonly pictures: ReadonlyMap<string, OwnPicture>;
  readonly faults: readonly string[];
}

/**
 * The instructor's own words, each at its part.
 *
 * @returns the parts, and one sentence for each thing that could not be used
 */
export function ownParts({ texts, pictures, faults }: OwnFolder): {
  readonly own: ReadonlyMap<BriefingPart, readonly Block[]>;
  readonly faults: readonly string[];
} {
  const own = new Map<BriefingPart, readonly Block[]>();
  const said = [...faults];
  for (const [name, text] of texts) {
    const part = briefingParts.find((one) => one === name);
    if (part === undefined) {
      said.push(`briefing/${name}.md belongs to no part: call it one of ${briefingParts.join(', ')}.`);
      continue;
    }
    const { blocks, faults: inText } = ownWords(text, pictures);
    own.set(part, blocks);
    said.push(...inText.map((fault) => `briefing/${name}.md: ${fault}`));
  }
  return { own, faults: said };
}

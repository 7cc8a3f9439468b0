import type { TileView } from '../../../src/server/contract/index.ts';
import { headWords } from './words.ts';

/**
 * Tiles in an order for a class: by what they measure, and those that measure the same in an order that tells nothing
 * of benches and stays as long as their files do.
 */
export function classOrder(tiles: readonly TileView[]): readonly TileView[] {
  return tiles
    .map((tile) => ({ tile, name: headWords(tile, true), mixed: mixedUp(`${tile.path} ${tile.bench}`) }))
    .sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }) || a.mixed - b.mixed)
    .map(({ tile }) => tile);
}

/** A number from a text, by FNV-1a with 32 bit: texts that are nearly the same come far apart. */
function mixedUp(text: string): number {
  let hash = 0x811c9dc5;
  for (const letter of text) {
    hash = Math.imul(hash ^ (letter.codePointAt(0) ?? 0), 0x01000193);
  }
  // FNV-1a mixes the last letters of a text too little to sort by.
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  return (hash ^ (hash >>> 13)) >>> 0;
}

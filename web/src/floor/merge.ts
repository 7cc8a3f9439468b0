import type { FloorView } from '../../../src/server/contract/index.ts';

/** The whole floor: tiles that came are taken, those that did not come are as they were. */
export function merged(before: FloorView | null, change: FloorView): FloorView {
  const tiles = new Map([...(before?.benches ?? []), ...change.benches].map((tile) => [tile.bench, tile]));
  return {
    ...change,
    benches: change.names.flatMap((name) => {
      const tile = tiles.get(name);
      return tile === undefined ? [] : [tile];
    }),
  };
}

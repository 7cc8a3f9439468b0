import type { BenchTile, FloorNow } from '../floor/index.ts';
import type { FloorView, TileView } from './contract/index.ts';
import { floorViewOf } from './floor-view.ts';
import { toldAdvice, toldGate } from './told.ts';

/**
 * The floor for a display that everybody in the room reads: what each bench measures and how far it is, with benches
 * counted instead of named. No code of a group, no path, no time constant, and nobody is called out.
 *
 * @param only codes of the benches whose tiles go with it; all where left out
 */
export function displayFloorViewOf(now: FloorNow, only: ReadonlySet<string> | null = null): FloorView {
  const names = new Map(now.benches.map(({ bench }, i) => [bench, `bench ${i + 1}`]));
  const named = (bench: string) => names.get(bench) ?? 'a bench';
  const benches = now.benches
    .filter(({ bench }) => only === null || only.has(bench))
    .map((tile) => displayed(tile, named(tile.bench)));
  const view = floorViewOf({ ...now, benches, calls: [] });
  return {
    ...view,
    names: [...names.values()],
    session: { ...view.session, left: view.session.left.map((one) => ({ ...one, bench: named(one.bench) })) },
    trouble: now.trouble === null ? null : { message: 'The benches cannot be watched.', mend: askStaff },
  };
}

const askStaff = 'Ask those who run the session.';

function displayed(tile: BenchTile, bench: string): BenchTile {
  const { trial } = tile;
  return {
    ...tile,
    bench,
    group: null,
    section: null,
    path: tile.path === null ? null : bench,
    trial:
      trial === null
        ? null
        : {
            ...trial,
            timeConstant: null,
            gates: trial.gates.flatMap((gate) => {
              const told = toldGate(gate);
              return told === null ? [] : [{ ...gate, ...told, value: null, limit: null }];
            }),
            advice: toldAdvice(trial),
          },
    trouble:
      tile.trouble === null ? null : { message: 'The file of this bench cannot be read.', mend: askStaff },
    trials: tile.trials.map((one, i) => ({
      ...one,
      path: `trial ${i + 1}`,
      timeConstant: null,
      standardUncertainty: null,
      words: verdictWords[one.verdict],
    })),
    rig: [],
  };
}

const verdictWords: Readonly<Record<TileView['trials'][number]['verdict'], string>> = {
  usable: 'Usable.',
  'usable-with-remarks': 'Usable, with remarks.',
  repeat: 'To be repeated.',
  unreadable: 'It cannot be read.',
};

// A watcher of its own process: it looks when it is told to, by a clock that it is told, and says what it sees.
import { openFloor } from '../../src/floor/index.ts';

const folder = process.argv[2] ?? '';
let now = Number(process.argv[3]);
const floor = await openFloor({ folder, clock: { now: () => now }, keepsTime: false });

process.on('message', async (message: { readonly now: number; readonly settle: boolean }) => {
  now = message.now;
  await floor.look();
  if (message.settle) {
    await floor.settled();
    await floor.look();
  }
  process.send?.(floor.now());
});
process.send?.(floor.now());

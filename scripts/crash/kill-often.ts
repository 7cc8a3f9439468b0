import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { halfWritten, lossesIn } from './check.ts';
import { clients, type Desk, isBroken } from './clients.ts';
import { courseText } from './course.ts';
import { Ledger } from './ledger.ts';
import { drawsFrom } from './random.ts';
import { sendInPieces } from './send-in-pieces.ts';
import { freePort, startServer } from './server-process.ts';

/** What came of it. */
export interface KilledOften {
  readonly kills: number;
  /** Of these, how many came before the server was open. */
  readonly duringStart: number;
  /** How often each thing was acknowledged, refused, or broken off by a kill. */
  readonly counts: Ledger['counts'];
  /** What was lost or is half-written. */
  readonly losses: readonly string[];
  /** Answers that no server should give. */
  readonly faults: readonly string[];
}

/** Part of the starts that are killed before the server is open, and the longest time that they then have, ms. */
const killedStarts = 0.15;
const longestStart = 700;
/** A kill comes so many acknowledged deeds after the start, at most, and so many in some cases, for slow ones; ms later. */
const mostDeeds = 15;
const patient = 0.1;
const manyDeeds = 80;
const latest = 60;
/** But never later than this, ms. */
const longestWork = 20_000;
const pause = 2;
/** ms */
const refusedPause = 5;

/**
 * Kills a server at random moments while clients work, again and again, and holds what is in the folder each time
 * against what was acknowledged. Nothing of it is on the network.
 *
 * @param tell told after every kill
 */
export async function killOften(
  { kills, seed, every }: { readonly kills: number; readonly seed: number; readonly every: number },
  tell: (done: number) => void = () => undefined,
): Promise<KilledOften> {
  const folder = mkdtempSync(join(tmpdir(), 'emberline-crash-'));
  mkdirSync(join(folder, 'recordings'));
  writeFileSync(join(folder, 'experiment.yaml'), courseText);
  const ledger = new Ledger(courseText);
  const random = drawsFrom(seed);
  const port = await freePort();
  const all = [...clients, ['recordings sent in pieces', sendInPieces()] as const];
  const losses: string[] = [];
  let words = 0;
  let duringStart = 0;
  const desk: Desk = {
    base: () => `http://127.0.0.1:${port}`,
    ledger,
    random,
    word: () => {
      words += 1;
      return `word-${words}-end`;
    },
  };
  try {
    for (let kill = 1; kill <= kills && losses.length === 0; kill++) {
      const early = random() < killedStarts ? random() * longestStart : null;
      const server = await startServer(folder, port, early);
      if (server === 'killed') duringStart += 1;
      else {
        if (kill % every === 0) losses.push(...(await halfWritten(server.base, folder, ledger)));
        const working = { goOn: true };
        const work = all.map(([name, deed]) => workOn(desk, name, deed, working));
        const deeds = Math.floor(random() * (random() < patient ? manyDeeds : mostDeeds));
        const enough = ledger.acknowledged + deeds;
        const until = performance.now() + longestWork;
        while (ledger.acknowledged < enough && performance.now() < until) await after(pause);
        await after(random() * latest);
        working.goOn = false;
        await server.kill();
        await Promise.all(work);
      }
      if (kill % every === 0 || kill === kills) losses.push(...(await lossesIn(folder, ledger)));
      tell(kill);
    }
    // What the last kill left is met by a server once more.
    const last = await startServer(folder, port, null);
    if (last === 'killed') throw new Error('nobody has killed this one');
    losses.push(...(await halfWritten(last.base, folder, ledger)));
    await last.kill();
    losses.push(...(await lossesIn(folder, ledger)));
  } finally {
    if (losses.length === 0) rmSync(folder, { recursive: true, force: true });
    else process.stderr.write(`the folder is kept at ${folder}\n`);
  }
  return { kills, duringStart, counts: ledger.counts, losses, faults: ledger.faults };
}

async function workOn(
  desk: Desk,
  name: string,
  deed: (desk: Desk) => Promise<'done' | 'refused'>,
  working: { readonly goOn: boolean },
): Promise<void> {
  while (working.goOn) {
    try {
      const outcome = await deed(desk);
      desk.ledger.count(name, outcome);
      // Where there is nothing to be done yet, others come first.
      if (outcome === 'refused') await after(refusedPause);
    } catch (error) {
      if (!isBroken(error)) throw error;
      desk.ledger.count(name, 'broken');
      return;
    }
  }
}

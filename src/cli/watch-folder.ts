import { listCrew } from '../analysis/index.ts';
import { type BenchTile, type Floor, type FloorNow, openFloor } from '../floor/index.ts';
import { ExperimentFileError, readExperimentText } from '../store/index.ts';
import { interrupted } from './interrupted.ts';
import { type ExitStatus, inkFor, type Surroundings } from './terminal.ts';
import type { WatchOptions } from './watch-command.ts';
import { changedBenches, FloorLog, presentFloor } from './watch-present.ts';
import { Screen } from './watch-screen.ts';
import { workerModule } from './worker-module.ts';

/** To read a file, to see that it is done, and to have its result. */
const looksForOnce = 3;

/**
 * The command `watch`: runs until it is told to end.
 *
 * @param clock ms since 1970 (UTC)
 * @param until resolves when it is to end; without it, q, Ctrl-C or a request of the system to end
 * @returns 0; 1 where a trial has to be repeated or cannot be read; 2 where the experiment file cannot be used
 * @throws Error where the folder holds no experiment
 */
export async function watchBenches(
  folder: string,
  options: WatchOptions,
  surroundings: Surroundings,
  clock: { now(): number },
  until?: (floor: Floor) => Promise<void>,
): Promise<ExitStatus> {
  await requireExperiment(folder);
  const worker = workerModule();
  const crew = worker === null ? null : listCrew(worker, 1);
  const floor = await openFloor({
    folder,
    clock,
    keepsTime: !options.once && until === undefined,
    ...(crew === null ? {} : { analyst: crew.analyst }),
  });
  try {
    if (options.once) {
      for (let i = 0; i < looksForOnce; i++) {
        await floor.settled('session');
        await floor.look();
      }
      writeOnce(folder, floor.now(), options, surroundings);
    } else await follow(folder, floor, options, surroundings, until);
    return statusOf(floor.now());
  } finally {
    await crew?.close();
    await floor.close();
  }
}

async function requireExperiment(folder: string): Promise<void> {
  await readExperimentText(folder).catch((error: unknown) => {
    if (!(error instanceof ExperimentFileError)) throw error;
    throw new Error(`${error.message}\nTo start one there: emberline new ${folder}`);
  });
}

function writeOnce(
  folder: string,
  now: FloorNow,
  { json }: WatchOptions,
  { stdout, environment }: Surroundings,
): void {
  const lines = json
    ? [JSON.stringify({ ...now, benches: now.benches.map(withoutSeries) })]
    : presentFloor(folder, now, inkFor(stdout, environment));
  stdout.write(`${lines.join('\n')}\n`);
}

async function follow(
  folder: string,
  floor: Floor,
  options: WatchOptions,
  { stdout, environment }: Surroundings,
  until: ((floor: Floor) => Promise<void>) | undefined,
): Promise<void> {
  const inPlace = stdout.isTTY && environment['TERM'] !== 'dumb' && !options.plain && !options.json;
  const ink = inkFor(stdout, environment);
  const screen = inPlace ? new Screen(stdout) : null;
  const show = screen === null ? teller(options, (line) => void stdout.write(`${line}\n`)) : null;
  const draw = (now: FloorNow) => {
    if (screen === null) show?.(now);
    else screen.draw([...presentFloor(folder, now, ink), '', ink.faint('  q ends it')]);
  };
  draw(floor.now());
  const stop = floor.onChange(draw);
  try {
    await (until === undefined ? ended(screen) : until(floor));
  } finally {
    stop();
    if (screen !== null) {
      screen.close();
      stdout.write(`${presentFloor(folder, floor.now(), ink).join('\n')}\n`);
    }
  }
}

function ended(screen: Screen | null): Promise<void> {
  return screen === null ? interrupted() : Promise.race([interrupted(), screen.quit()]);
}

/** Writes a line for what is new. */
function teller({ json }: WatchOptions, write: (line: string) => void): (now: FloorNow) => void {
  if (!json) {
    const log = new FloorLog();
    return (now) => {
      for (const line of log.lines(now)) write(line);
    };
  }
  const said = new Map<string, string>();
  return (now) => {
    for (const tile of changedBenches(now.benches, said)) {
      write(JSON.stringify({ at: now.at, ...withoutSeries(tile) }));
    }
  };
}

/** The points of the picture are for those who draw it: a program has the file. */
function withoutSeries(tile: BenchTile) {
  if (tile.trial === null) return tile;
  const { series: _, ...trial } = tile.trial;
  return { ...tile, trial };
}

function statusOf({ benches, trouble }: FloorNow): ExitStatus {
  if (trouble !== null) return 2;
  const amiss = benches.some(({ trial, trouble: own, trials }) => {
    const last = trials.at(-1)?.verdict;
    return own !== null || trial?.advice.action === 'repeat' || last === 'repeat' || last === 'unreadable';
  });
  return amiss ? 1 : 0;
}

import { resolve } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import {
  type Analyst,
  analyzeForList,
  experimentDecaySettings,
  type SensorSettings,
} from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { callsOf } from '../live/index.ts';
import { type RigCheck, rigTrouble } from '../rig/index.ts';
import { Bench } from './bench.ts';
import { benchNames, currentFile, Discovery, type FoundFile, sessionFiles } from './discovery.ts';
import { Expectations } from './expectations.ts';
import { FolderState } from './folder-state.ts';
import type { TrialRequest } from './followed-trial.ts';
import { Results } from './results.ts';
import { sessionNow, usualLength } from './session.ts';
import type { BenchTile, Floor, FloorNow } from './types.ts';

export interface FloorOptions {
  /** Folder that holds experiment.yaml. */
  readonly folder: string;
  readonly clock: {
    /** ms since 1970 (UTC). */
    now(): number;
  };
  /** Who analyzes files that are done; in this thread where left out. */
  readonly analyst?: Analyst;
  /** Whether the floor looks by itself, as it does where left out; else `look` has to be called. */
  readonly keepsTime?: boolean;
}

/** From one look to the next, and between two at least, ms: those who listen are told at most twice a second. */
const lookEvery = 500;
const shortestPause = 100;
/**
 * Between two scans of the folder, ms, and how many times as long as a scan takes; and where the folder itself shows
 * that a file came or went.
 */
const shortestScanPause = 500;
const scanShare = 20;
const stirredShare = 3;
/** Decisions of people and checks of rigs are looked at again after so long, ms. */
const lookAgainAfter = 10_000;
/** Tiles of benches at which nothing happens are made anew after so long, ms, for the time that they rest. */
const restingTile = 5000;
/** No clock is off by more than this without being noticed, ms. */
const noClockIsOff = 12 * 3600 * 1000;

/**
 * Watches the benches of an experiment folder. Everything is from its files: whoever opens the floor again after a
 * power cut sees the same.
 */
export async function openFloor({
  folder,
  clock,
  analyst = analyzeForList,
  keepsTime = true,
}: FloorOptions): Promise<Floor> {
  const floor = new WatchedFloor(resolve(folder), () => clock.now(), analyst);
  await floor.look();
  if (keepsTime) floor.keepTime();
  return floor;
}

type Listener = (now: FloorNow, changed: readonly string[]) => void;

/** What goes with one state of the experiment file. */
interface Watched {
  readonly experiment: Experiment;
  readonly sensor: SensorSettings;
  readonly expectations: Expectations;
  readonly discovery: Discovery;
  readonly results: Results;
  readonly benches: Map<string, Bench>;
}

class WatchedFloor implements Floor {
  readonly #folder: string;
  readonly #clock: () => number;
  readonly #analyst: Analyst;
  readonly #state: FolderState;
  readonly #listeners = new Set<Listener>();
  #watched: Watched | null = null;
  #tiles = new Map<string, { tile: BenchTile; made: number; state: string }>();
  #session: FoundFile[] = [];
  #nextScan = Number.NEGATIVE_INFINITY;
  #nextStirred = Number.NEGATIVE_INFINITY;
  #nextLookAgain = Number.NEGATIVE_INFINITY;
  #changed = new Set<string>();
  #looking: Promise<void> | null = null;
  #timer: NodeJS.Timeout | null = null;
  #closed = false;

  constructor(folder: string, clock: () => number, analyst: Analyst) {
    this.#folder = folder;
    this.#clock = clock;
    this.#analyst = analyst;
    this.#state = new FolderState(folder);
  }

  now(): FloorNow {
    const now = this.#clock();
    const benches = [...this.#tiles.values()].map(({ tile }) => tile);
    const watched = this.#watched;
    return {
      at: new Date(now).toISOString(),
      benches,
      calls: callsOf(benches),
      session:
        watched === null
          ? nothingKnown
          : sessionNow(watched.experiment, watched.expectations.planned, benches, {
              now,
              first: this.#firstRecording(watched),
            }),
      trouble: this.#state.trouble,
    };
  }

  look(): Promise<void> {
    this.#looking ??= this.#look().finally(() => {
      this.#looking = null;
    });
    return this.#looking;
  }

  async settled(of: 'session' | 'folder' = 'folder'): Promise<void> {
    const among = of === 'folder' ? null : new Set(this.#session.map(({ path }) => path));
    await this.#watched?.results.settled(among);
  }

  onChange(listener: Listener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  async close(): Promise<void> {
    this.#closed = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#listeners.clear();
    await this.#looking;
    await this.#letGo();
  }

  /** Looks again and again. */
  keepTime(pause: number = lookEvery): void {
    this.#timer = setTimeout(() => {
      const start = performance.now();
      void this.look().finally(() => {
        const left = lookEvery - (performance.now() - start);
        if (!this.#closed) this.keepTime(Math.max(shortestPause, left));
      });
    }, pause);
  }

  async #look(): Promise<void> {
    const now = this.#clock();
    const changed = await this.#state.look();
    if (changed.experiment || changed.rig || now >= this.#nextScan || (await this.#stirred(now))) {
      await this.#scan(now, changed);
    }
    const watched = this.#watched;
    if (watched === null) {
      this.#tell();
      return;
    }
    const { benches } = watched;
    for (const bench of benches.values()) {
      await bench.look(now, this.#rested(watched, bench));
      // A look may compute for some tens of milliseconds: between two, others who share this thread have their turn.
      await nextTurn();
    }
    for (const bench of benches.values()) {
      // Recorded into again: what it came to does not count any more.
      if (bench.file !== null && !bench.done.includes(bench.file)) watched.results.forget(bench.file.path);
    }
    // What has just ended is not left until the folder is looked through again.
    if ([...benches.values()].some((bench) => awaitsResult(watched, bench))) this.#shareOut(watched, now);
    this.#makeTiles(watched);
    this.#tell();
  }

  async #scan(now: number, changed: { readonly experiment: boolean; readonly rig: boolean }): Promise<void> {
    let cost = 0;
    const again = now >= this.#nextLookAgain;
    if (changed.experiment) await this.#beginAnew();
    const watched = this.#watched;
    if (watched !== null) {
      if (again || changed.rig) watched.results.lookAgain();
      if (changed.rig) for (const bench of watched.benches.values()) bench.judgeAnew();
      const start = performance.now();
      await watched.discovery.scan(this.#clock);
      cost = performance.now() - start;
      this.#shareOut(watched, now);
    }
    if (again) this.#nextLookAgain = now + lookAgainAfter;
    this.#nextScan = now + Math.max(shortestScanPause, scanShare * cost);
    this.#nextStirred = now + stirredShare * cost;
  }

  /** Whether a file came or went, as far as that can be told without a scan. */
  async #stirred(now: number): Promise<boolean> {
    if (this.#watched === null || now < this.#nextStirred) return false;
    return this.#watched.discovery.stirred();
  }

  async #beginAnew(): Promise<void> {
    await this.#letGo();
    this.#tiles = new Map();
    this.#changed.add('');
    const { experiment, sensor } = this.#state;
    if (experiment === null || sensor === null) return;
    this.#watched = {
      experiment,
      sensor,
      expectations: new Expectations(experiment),
      discovery: new Discovery(this.#folder, experiment),
      results: new Results(this.#folder, experiment, this.#analyst),
      benches: new Map(),
    };
  }

  async #letGo(): Promise<void> {
    const watched = this.#watched;
    this.#watched = null;
    if (watched === null) return;
    await Promise.all([...watched.benches.values()].map((bench) => bench.close()));
    await watched.results.close();
  }

  /** Gives each bench its files of the session, and asks for the results of all that are done. */
  #shareOut(watched: Watched, now: number): void {
    const { experiment, discovery, results, benches } = watched;
    const { files } = discovery;
    const length = experiment.session.length ?? usualLength;
    this.#session = sessionFiles(files, length, (path) => endedBy(results.of(path)?.summary ?? null));
    const names = benchNames(files);
    const own = byBench(this.#session, names);
    for (const name of [...experiment.benches, ...own.keys()]) {
      if (!benches.has(name)) benches.set(name, this.#bench(watched, name));
    }
    for (const bench of benches.values()) {
      const of = own.get(bench.name) ?? [];
      bench.turnTo(of, currentFile(of, now));
    }
    const followed = new Set(
      [...benches.values()].flatMap(({ file, done }) =>
        file === null || done.includes(file) ? [] : [file.path],
      ),
    );
    const session = new Set(this.#session.map(({ path }) => path));
    const wanted = files
      .filter((file) => !followed.has(file.path) && (file.placed !== null || session.has(file.path)))
      .toSorted(
        (a, b) => Number(session.has(b.path)) - Number(session.has(a.path)) || b.modified - a.modified,
      );
    results.want(wanted, this.#state.rigChecks);
  }

  #bench(watched: Watched, name: string): Bench {
    return new Bench(name, {
      folder: this.#folder,
      request: (file) => this.#request(watched, name, file),
      result: (path) => watched.results.of(path),
      rig: (file) => this.#rig(watched, name, file),
    });
  }

  #request(
    { experiment, sensor, expectations, results, discovery, benches }: Watched,
    name: string,
    file: FoundFile,
  ): TrialRequest {
    const condition = file.placed?.condition ?? null;
    const others = discovery.files
      .filter(({ path }) => path !== file.path)
      .toSorted((a, b) => a.modified - b.modified);
    const earlier = expectations.earlierRuns(
      this.#state.references,
      others.flatMap(({ path }) => results.of(path) ?? []),
    );
    const before = benches
      .get(name)
      ?.trials.filter(({ path }) => path !== file.path)
      .at(-1);
    const bench = file.place?.bench ?? file.place?.group ?? null;
    return {
      read: {},
      chain: sensor,
      settings: experimentDecaySettings(experiment, condition?.body ?? null),
      context: expectations.contextOf(condition, bench, earlier, {
        lastAmbient: before === undefined ? null : (results.of(before.path)?.ambient ?? null),
        zeroShift: expectations.zeroShift(this.#state.rigChecks, file.place?.bench ?? null),
      }),
    };
  }

  #rig({ experiment }: Watched, name: string, file: FoundFile | null): string[] {
    const bench = file?.place?.bench ?? (experiment.benches.includes(name) ? name : null);
    const group = file?.place?.group ?? null;
    const { body, flow } = file?.placed?.condition ?? { body: null, flow: null };
    const checks: readonly RigCheck[] = this.#state.rigChecks;
    const trouble = rigTrouble(experiment, checks, { bench, group, body, flow, began: this.#clock() });
    return trouble.map(({ message, mend }) => (mend === null ? message : `${message} ${mend}`));
  }

  /** For how long a file had not grown, as far as the clocks of the disk and of its other files tell, ms. */
  #rested({ discovery }: Watched, { file }: Bench): number {
    if (file === null) return 0;
    const newest = Math.max(file.modified, ...this.#session.map(({ modified }) => modified));
    const age = this.#clock() - file.modified;
    if (discovery.ahead !== null) return Math.max(0, newest - file.modified, age - discovery.ahead);
    return Math.max(newest - file.modified, age > noClockIsOff ? age : 0);
  }

  /** s since a bench's file last grew; null where that is not known. */
  #quiet({ discovery }: Watched, { file, grown }: Bench): number | null {
    if (file === null) return null;
    if (grown !== null) return Math.max(0, (this.#clock() - grown) / 1000);
    if (discovery.ahead === null) return null;
    return Math.max(0, (this.#clock() - discovery.ahead - file.modified) / 1000);
  }

  /** When the first recording of the session began, by our clock, ms. */
  #firstRecording({ discovery, results, benches }: Watched): number | null {
    const { ahead } = discovery;
    if (ahead === null) return null;
    const begins = this.#session.flatMap(({ path, modified }) => {
      const bench = [...benches.values()].find(({ file }) => file?.path === path);
      const duration = results.of(path)?.summary?.duration ?? bench?.trial?.time ?? null;
      return duration === null ? [] : [modified + ahead - duration * 1000];
    });
    return begins.length === 0 ? null : Math.min(...begins);
  }

  #makeTiles(watched: Watched): void {
    const now = this.#clock();
    for (const [name, bench] of watched.benches) {
      const before = this.#tiles.get(name);
      const state = `${bench.changes} ${watched.results.changes}`;
      if (before !== undefined && before.state === state && now - before.made < restingTile) continue;
      const tile = bench.tile(this.#quiet(watched, bench));
      this.#tiles.set(name, { tile, made: now, state });
      this.#changed.add(name);
    }
  }

  #tell(): void {
    if (this.#changed.size === 0) return;
    const changed = [...this.#changed].filter((name) => name !== '');
    this.#changed = new Set();
    if (this.#listeners.size === 0) return;
    const state = this.now();
    for (const listener of this.#listeners) listener(state, changed);
  }
}

const nothingKnown: FloorNow['session'] = {
  elapsed: null,
  length: null,
  remaining: null,
  left: [],
  message: 'The experiment file cannot be used.',
};

function byBench(files: readonly FoundFile[], names: ReadonlyMap<string, string>): Map<string, FoundFile[]> {
  const groups = new Map<string, FoundFile[]>();
  for (const file of files) {
    const name = names.get(file.path) ?? file.path;
    groups.set(name, [...(groups.get(name) ?? []), file]);
  }
  return groups;
}

/** When a recording ended by its own word, ms since 1970 (UTC); null where it states no day. */
function endedBy(
  summary: { readonly startedAt: string | null; readonly duration: number | null } | null,
): number | null {
  const began = summary?.startedAt?.includes('T') ? Date.parse(summary.startedAt) : Number.NaN;
  return Number.isFinite(began) ? began + (summary?.duration ?? 0) * 1000 : null;
}

function awaitsResult({ results }: Watched, { file, done }: Bench): boolean {
  return file !== null && done.includes(file) && results.of(file.path) === null;
}

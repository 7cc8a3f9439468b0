import { stat } from 'node:fs/promises';
import { join, posix } from 'node:path';
import type { PlacedRecording } from '../analysis/index.ts';
import { type Experiment, fixedFolder, type RecordingPlace, recordingPlace } from '../experiment/index.ts';
import { recordingPaths } from '../store/index.ts';

/** A file that may be a recording of the session. Its times are by the clock of the disk that it is on, ms. */
export interface FoundFile {
  /** From the experiment folder, with / between its parts. */
  readonly path: string;
  readonly place: RecordingPlace | null;
  /** Null where the path does not say what the recording is of. */
  readonly placed: PlacedRecording | null;
  /** What has to be asked about its path; null where it is clear. */
  readonly asked: string | null;
  /** Bytes. */
  readonly size: number;
  readonly modified: number;
  /** The scan that saw it first: 1 for what was there from the start. */
  readonly firstSeen: number;
  /** When it was seen to have changed last, by our clock, ms; null where it was not. */
  readonly changed: number | null;
}

/** What a path says is the same as long as the experiment file is. */
type Reading = Pick<FoundFile, 'place' | 'placed' | 'asked'>;

/** Files that are looked at side by side. */
const atOnce = 16;

/**
 * Finds the recordings of an experiment folder, again and again, and what the clock of their disk shows. Two machines
 * seldom agree about the time: how far they are apart shows only when a file is seen to grow.
 */
export class Discovery {
  readonly #folder: string;
  readonly #experiment: Experiment;
  readonly #readings = new Map<string, Reading>();
  #files: ReadonlyMap<string, FoundFile> = new Map();
  /** The folders as they were when they were last read, with the times of their own that show what came and went. */
  #folders: ReadonlyMap<string, number | null> = new Map();
  #scans = 0;
  #ahead: number | null = null;

  constructor(folder: string, experiment: Experiment) {
    this.#folder = folder;
    this.#experiment = experiment;
  }

  get files(): readonly FoundFile[] {
    return [...this.#files.values()];
  }

  file(path: string): FoundFile | null {
    return this.#files.get(path) ?? null;
  }

  /** Our clock less that of the disk, ms; null as long as no file was seen to grow. */
  get ahead(): number | null {
    return this.#ahead;
  }

  /**
   * Whether a file came or went since the last scan, as the times of the folders tell. It costs little; a disk that does
   * not keep such times says no.
   */
  async stirred(): Promise<boolean> {
    const times = await this.#timesOf([...this.#folders.keys()]);
    return [...this.#folders].some(([folder, before]) => times.get(folder) !== before);
  }

  /**
   * Looks at the folder once more.
   *
   * @param now our clock, ms
   */
  async scan(now: () => number): Promise<void> {
    this.#scans += 1;
    // Times from before the reading: what comes while it is read shows as a change.
    const times = await this.#timesOf([...this.#folders.keys()]);
    const { paths, folders } = await recordingPaths(this.#folder, fixedFolder(this.#experiment.recordings));
    this.#folders = new Map(folders.map((folder) => [folder, times.get(folder) ?? null]));
    const files = new Map<string, FoundFile>();
    for (let i = 0; i < paths.length; i += atOnce) {
      const some = await Promise.all(paths.slice(i, i + atOnce).map((path) => this.#look(path, now)));
      for (const file of some) if (file !== null) files.set(file.path, file);
    }
    this.#files = files;
  }

  async #timesOf(folders: readonly string[]): Promise<Map<string, number | null>> {
    const times = await Promise.all(
      folders.map(async (folder) => {
        const traits = await stat(join(this.#folder, folder)).catch(() => null);
        return [folder, traits?.mtimeMs ?? null] as const;
      }),
    );
    return new Map(times);
  }

  async #look(path: string, now: () => number): Promise<FoundFile | null> {
    const traits = await stat(join(this.#folder, path)).catch(() => null);
    if (traits === null) return null;
    const { size, mtimeMs: modified } = traits;
    const before = this.#files.get(path);
    const at = now();
    const isNew = before === undefined && this.#scans > 1;
    const grown = before !== undefined && size > before.size;
    // The file was written at or before this moment: the nearest moment of all comes nearest to the truth.
    if (grown) this.#ahead = Math.min(this.#ahead ?? Number.POSITIVE_INFINITY, at - modified);
    const touched = before !== undefined && (size !== before.size || modified !== before.modified);
    return {
      path,
      ...this.#read(path),
      size,
      modified,
      firstSeen: before?.firstSeen ?? this.#scans,
      changed: isNew || touched ? at : (before?.changed ?? null),
    };
  }

  #read(path: string): Reading {
    const known = this.#readings.get(path);
    if (known !== undefined) return known;
    const reading = readPath(this.#experiment, path);
    this.#readings.set(path, reading);
    return reading;
  }
}

function readPath(experiment: Experiment, path: string): Reading {
  const place = recordingPlace(experiment, path);
  if (place.kind === 'asked') return { place: null, placed: null, asked: place.message };
  const { body, flow } = place;
  const placed = body === null || flow === null ? null : { path, place, condition: { body, flow } };
  return { place, placed, asked: null };
}

/**
 * Names of the benches that files are of: the bench that the path names, else the group, else the folder. A file whose
 * path says nothing belongs where all others of its folder do.
 */
export function benchNames(files: readonly FoundFile[]): ReadonlyMap<string, string> {
  const own = (file: FoundFile) => file.place?.bench ?? file.place?.group ?? null;
  const ofFolder = new Map<string, string | null>();
  for (const file of files) {
    const name = own(file);
    if (name === null) continue;
    const folder = posix.dirname(file.path);
    const before = ofFolder.get(folder);
    ofFolder.set(folder, before === undefined || before === name ? name : null);
  }
  return new Map(
    files.map((file) => {
      const folder = posix.dirname(file.path);
      return [file.path, own(file) ?? ofFolder.get(folder) ?? folder];
    }),
  );
}

/** Where a file says when it was recorded, and its disk says something else by more than this, it was copied, ms. */
const copiedAfter = 12 * 3600 * 1000;

/**
 * The files of the session: those that were seen to change, and those of the same section that were written within the
 * length of a session before the newest one, by the clock of their disk.
 *
 * @param length of a session, s
 * @param ended when a recording ended by its own word, ms since 1970 (UTC); null where it does not say
 */
export function sessionFiles(
  files: readonly FoundFile[],
  length: number,
  ended: (path: string) => number | null,
): FoundFile[] {
  const time = ({ path, modified }: FoundFile) => {
    const stated = ended(path);
    return stated !== null && Math.abs(stated - modified) > copiedAfter ? stated : modified;
  };
  const clear = files.filter(({ place }) => place !== null);
  const newest = clear.reduce<FoundFile | null>((latest, file) => {
    return latest === null || time(file) > time(latest) ? file : latest;
  }, null);
  const section = newest?.place?.section ?? null;
  return files.filter((file) => {
    if (file.changed !== null) return true;
    if (newest === null || file.place === null) return false;
    const same = section === null || file.place.section === null || file.place.section === section;
    return same && time(file) >= time(newest) - length * 1000;
  });
}

/** A file that does not change for so long gives way to another one of its bench that does, ms. */
const givesWayAfter = 10_000;

/**
 * The file that a bench is at: the one that appeared last; of those that were there from the start the one written
 * last, as long as it does not rest while another one grows.
 *
 * @param now our clock, ms
 */
export function currentFile(files: readonly FoundFile[], now: number): FoundFile | null {
  const open = files.filter(({ path }) => !path.endsWith('.gz'));
  const [latest] = open.toSorted(
    (a, b) => b.firstSeen - a.firstSeen || b.modified - a.modified || (a.path < b.path ? 1 : -1),
  );
  if (latest === undefined) return null;
  const grows = (file: FoundFile) => file.changed !== null && now - file.changed < givesWayAfter;
  if (grows(latest)) return latest;
  return open.find(grows) ?? latest;
}

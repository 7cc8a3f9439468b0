import type { ArchiveOutcome, CheckedRecording, Removal } from '../archive/index.ts';
import type { ArchivedRecording } from '../store/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/** What the command did. */
export interface ShownArchive {
  readonly folder: string;
  /** Folder of the archive. */
  readonly root: string;
  readonly outcomes: readonly ArchiveOutcome[];
  readonly removals: readonly Removal[];
  /** Whether it is the experiment's own, so that texts may be removed. */
  readonly inside: boolean;
}

/** Recordings that are named one by one. */
const mostNamed = 10;

/** What was archived and removed, for a person. */
export function presentArchive(
  { folder, root, outcomes, removals, inside }: ShownArchive,
  ink: Ink,
): string[] {
  const of = (state: ArchiveOutcome['state']) => outcomes.filter((one) => one.state === state).length;
  const entries = outcomes.flatMap((one) => (one.state === 'refused' ? [] : [one.entry]));
  const text = sum(entries, ({ bytes }) => bytes);
  const parquet = sum(entries, ({ parquet: { bytes } }) => bytes);
  const refused = outcomes.flatMap((one) => (one.state === 'refused' ? [one] : []));
  const verdict =
    refused.length === 0 ? ink.strong('archived') : ink.warm('not everything could be archived');
  const gone = new Set(removals.flatMap(({ entry, why }) => (why === null ? [entry.recording] : [])));
  const held = removals.filter(({ why }) => why !== null);
  return [
    `${printable(folder)}: ${verdict}`,
    ...entry('archive', printable(root)),
    ...entry(
      'recordings',
      `${of('archived')} archived and held against their texts, ${of('kept')} as they were`,
    ),
    ...(text > 0
      ? entry('size', `${size(text)} of text became ${size(parquet)}, 1 : ${(text / parquet).toFixed(1)}`)
      : []),
    ...(gone.size > 0 ? entry('removed', texts(gone.size)) : []),
    ...(inside ? removable(entries, gone) : []),
    ...named(refused, ({ recording, why }) => entry('left out', printable(`${recording}: ${why}`))),
    ...named(held, ({ entry: one, why }) => entry('not removed', printable(`${one.recording}: ${why}`))),
  ];
}

function removable(entries: readonly ArchivedRecording[], gone: ReadonlySet<string>): string[] {
  const left = entries.filter(({ recording }) => !gone.has(recording));
  const repaired = left.filter(({ repairs }) => repairs.length > 0);
  const clean = left.length - repaired.length;
  return [
    ...(clean > 0 && gone.size === 0
      ? entry(
          'texts',
          `${texts(clean)} can be removed where they are still there: --remove lists them and asks. The archive keeps their samples, not their bytes.`,
        )
      : []),
    ...(repaired.length > 0
      ? entry(
          'kept back',
          `${texts(repaired.length)} ${repaired.length === 1 ? 'says' : 'say'} more than the samples: lines left out, times straightened, further channels. --json has why.`,
        )
      : []),
  ];
}

/** The texts that are to be removed, for the question. */
export function presentRemovable(entries: readonly ArchivedRecording[]): string[] {
  return [
    `${texts(entries.length)}, ${size(sum(entries, ({ bytes }) => bytes))}, of which the archive holds every sample:`,
    ...entries.map(({ recording }) => `  ${printable(recording)}`),
  ];
}

/** How an archive stands, for a person. */
export function presentCheck(root: string, found: readonly CheckedRecording[], ink: Ink): string[] {
  const faults = found.filter(({ fault }) => fault !== null);
  const good = found.filter(({ fault }) => fault === null);
  const verdict =
    faults.length === 0 ? ink.strong('as it was') : ink.warm('something is missing or was changed');
  return [
    `${printable(root)}: ${verdict}`,
    ...entry(
      'recordings',
      `${good.filter(({ text }) => text).length} the same as their texts, ${good.filter(({ text }) => !text).length} whole without a text`,
    ),
    ...faults.flatMap(({ entry: one, fault }) => entry('fault', printable(`${one.recording}: ${fault}`))),
  ];
}

/** The same for a program: sizes in bytes. */
export function archiveAsJson({ folder, root, outcomes, removals }: ShownArchive) {
  const removalOf = new Map(removals.map(({ entry, why }) => [entry.recording, why]));
  return {
    folder,
    archive: root,
    recordings: outcomes.map((one) => {
      if (one.state === 'refused') return one;
      const why = removalOf.get(one.entry.recording);
      return { state: one.state, ...one.entry, removed: why === null, why: why ?? null };
    }),
  };
}

function named<T>(all: readonly T[], lines: (one: T) => readonly string[]): string[] {
  const rest = all.length - mostNamed;
  return [
    ...all.slice(0, mostNamed).flatMap(lines),
    ...(rest > 0 ? entry('', `and ${rest} more; --json has all`) : []),
  ];
}

function texts(count: number): string {
  return count === 1 ? '1 text' : `${count} texts`;
}

function size(bytes: number): string {
  return `${(bytes / 1e6).toFixed(1)} MB`;
}

function sum<T>(all: readonly T[], of: (one: T) => number): number {
  return all.reduce((total, one) => total + of(one), 0);
}

import { appendFileSync, mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import {
  benchNames,
  currentFile,
  Discovery,
  type FoundFile,
  sessionFiles,
} from '../../src/floor/discovery.ts';
import { thornwickExperiment } from '../practice/wishes.ts';

const course = thornwickExperiment();
const noon = Date.UTC(2026, 2, 2, 12);
const hour = 3_600_000;

/** A file that was there from the start, written at noon by the clock of its disk. */
function found(path: string, changes: Partial<FoundFile> = {}): FoundFile {
  return {
    path,
    place: null,
    placed: null,
    asked: null,
    size: 1000,
    modified: noon,
    firstSeen: 1,
    changed: null,
    ...changes,
  };
}

type Place = NonNullable<FoundFile['place']>;

function place(changes: Partial<Place>): Place {
  return {
    kind: 'read',
    section: null,
    group: null,
    bench: null,
    body: null,
    flow: null,
    repeat: null,
    ...changes,
  };
}

describe('the files of a folder', () => {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'emberline-discovery-'));
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  const first = 'recordings/A/A1/brass-12_120-1.txt';

  function write(path: string, text: string, modified: number): void {
    const file = join(folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    utimesSync(file, modified / 1000, modified / 1000);
  }

  test('are read by their paths, and asked about where these say nothing', async () => {
    write(first, '1\n', noon);
    write('recordings/A/A1/bras-12_120-1.txt', '1\n', noon);
    write('elsewhere/brass-12_120-1.txt', '1\n', noon);
    const discovery = new Discovery(folder, course);
    await discovery.scan(() => noon);
    expect(discovery.files.map(({ path }) => path).sort()).toEqual([
      'recordings/A/A1/bras-12_120-1.txt',
      first,
    ]);
    expect(discovery.file(first)).toMatchObject({
      place: { section: 'A', group: 'A1', bench: 'bench-1', repeat: 1 },
      placed: { condition: { body: 'brass-12', flow: '120' } },
      asked: null,
      size: 2,
      modified: noon,
    });
    expect(discovery.file('recordings/A/A1/bras-12_120-1.txt')).toMatchObject({ place: null, placed: null });
    expect(discovery.file('recordings/A/A1/bras-12_120-1.txt')?.asked).toBeTruthy();
    expect(discovery.file('elsewhere/brass-12_120-1.txt')).toBeNull();
  });

  test('that were there at first are not taken for changed; those that come later are', async () => {
    write(first, '1\n', noon);
    const discovery = new Discovery(folder, course);
    await discovery.scan(() => noon + hour);
    expect(discovery.file(first)).toMatchObject({ firstSeen: 1, changed: null });
    const second = 'recordings/A/A1/brass-12_120-2.txt';
    write(second, '1\n', noon);
    await discovery.scan(() => noon + hour + 1000);
    expect(discovery.file(first)).toMatchObject({ firstSeen: 1, changed: null });
    expect(discovery.file(second)).toMatchObject({ firstSeen: 2, changed: noon + hour + 1000 });
    // It rests: the moment stays.
    await discovery.scan(() => noon + hour + 2000);
    expect(discovery.file(second)?.changed).toBe(noon + hour + 1000);
    write(first, '1\n', noon + 5000);
    await discovery.scan(() => noon + hour + 3000);
    expect(discovery.file(first)).toMatchObject({ firstSeen: 1, changed: noon + hour + 3000 });
  });

  test('that are gone are no longer there', async () => {
    write(first, '1\n', noon);
    const discovery = new Discovery(folder, course);
    await discovery.scan(() => noon);
    rmSync(join(folder, first));
    await discovery.scan(() => noon);
    expect(discovery.files).toEqual([]);
  });

  test('show the clock of their disk when they grow, and only then', async () => {
    write(first, '1\n', noon);
    const discovery = new Discovery(folder, course);
    await discovery.scan(() => noon + hour);
    // A file that came, or was touched, may have been written long ago.
    write('recordings/A/A1/brass-12_120-2.txt', '1\n', noon - hour);
    write(first, '2\n', noon + 1000);
    await discovery.scan(() => noon + hour + 2000);
    expect(discovery.ahead).toBeNull();
    const grow = async (written: number, seen: number) => {
      appendFileSync(join(folder, first), '3\n');
      utimesSync(join(folder, first), written / 1000, written / 1000);
      await discovery.scan(() => seen);
    };
    await grow(noon + 3000, noon + hour + 3900);
    expect(discovery.ahead).toBe(hour + 900);
    // Nearer to the moment of writing, it is nearer to the truth; further from it, it tells nothing new.
    await grow(noon + 4000, noon + hour + 4100);
    expect(discovery.ahead).toBe(hour + 100);
    await grow(noon + 5000, noon + hour + 5800);
    expect(discovery.ahead).toBe(hour + 100);
  });
});

describe('which bench a file is of', () => {
  const namesOf = (...files: readonly FoundFile[]) => [...benchNames(files).values()];

  test('its path says: the bench, else the group', () => {
    expect(namesOf(found('a/1', { place: place({ bench: 'bench-2', group: 'A1' }) }))).toEqual(['bench-2']);
    expect(namesOf(found('a/1', { place: place({ group: 'A1' }) }))).toEqual(['A1']);
  });

  test('a path that says nothing follows those of its folder, where they agree', () => {
    const one = found('r/a/1', { place: place({ bench: 'bench-1' }) });
    const two = found('r/a/2', { place: place({ bench: 'bench-2' }) });
    const asked = found('r/a/x');
    expect(namesOf(one, asked)).toEqual(['bench-1', 'bench-1']);
    expect(namesOf(one, two, asked)).toEqual(['bench-1', 'bench-2', 'r/a']);
    expect(namesOf(one, found('r/b/x'))).toEqual(['bench-1', 'r/b']);
    // Whatever their order.
    expect(benchNames([asked, two, one, two]).get('r/a/x')).toBe('r/a');
  });
});

describe('the files of a session', () => {
  const unsaid = () => null;
  const paths = (files: readonly FoundFile[], ended: (path: string) => number | null = unsaid) =>
    sessionFiles(files, 7200, ended).map(({ path }) => path);
  const inA = place({ section: 'A' });

  test('are those within its length before the newest, of the same section', () => {
    expect(
      paths([
        found('new', { place: inA }),
        found('still', { place: inA, modified: noon - 2 * hour }),
        found('old', { place: inA, modified: noon - 2 * hour - 1 }),
        found('other', { place: place({ section: 'B' }) }),
        found('any', { place: place({}) }),
        found('asked'),
      ]),
    ).toEqual(['new', 'still', 'any']);
  });

  test('are all that were seen to change, whatever their place and time', () => {
    expect(
      paths([
        found('new', { place: inA }),
        found('old', { place: inA, modified: noon - 30 * hour, changed: noon }),
        found('asked', { changed: noon }),
        found('other', { place: place({ section: 'B' }), changed: noon }),
      ]),
    ).toEqual(['new', 'old', 'asked', 'other']);
  });

  test('a copied file counts by the time that it states', () => {
    const files = [found('new', { place: inA, modified: noon - 20 * hour }), found('copied', { place: inA })];
    // Both were written on another day than they lie on this disk.
    const ended = (path: string) => (path === 'copied' ? noon - 20.5 * hour : null);
    expect(paths(files)).toEqual(['copied']);
    expect(paths(files, ended)).toEqual(['new', 'copied']);
    // A clock that is off by an hour is no copy.
    expect(paths(files, (path) => (path === 'copied' ? noon - hour : null))).toEqual(['copied']);
  });

  test('are none where no path says anything and nothing changes', () => {
    expect(paths([found('a'), found('b')])).toEqual([]);
    expect(paths([])).toEqual([]);
  });
});

describe('the file that a bench is at', () => {
  const at = (...files: readonly FoundFile[]) => currentFile(files, noon)?.path ?? null;

  test('is the one that appeared last, whatever its time', () => {
    expect(at(found('a'), found('b', { firstSeen: 2, modified: noon - hour }))).toBe('b');
  });

  test('of those that were there it is the one written last, then the last by name', () => {
    expect(at(found('a', { modified: noon + 1 }), found('b'))).toBe('a');
    expect(at(found('a'), found('b'))).toBe('b');
    expect(at(found('b'), found('a'))).toBe('b');
  });

  test('gives way to one that grows when it rests for ten seconds', () => {
    const latest = (changed: number) => found('latest', { firstSeen: 3, changed });
    const other = found('other', { changed: noon - 500 });
    expect(at(latest(noon - 9999), other)).toBe('latest');
    expect(at(latest(noon - 10_000), other)).toBe('other');
    expect(at(latest(noon - 10_000), found('other', { changed: noon - 10_000 }))).toBe('latest');
  });

  test('is never a packed one, for nobody records into it', () => {
    expect(at(found('a'), found('b.txt.gz', { firstSeen: 2 }))).toBe('a');
    expect(at(found('b.txt.gz'))).toBeNull();
    expect(at()).toBeNull();
  });
});

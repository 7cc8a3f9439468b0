import { mkdir, mkdtemp, readdir, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { svgToPng } from '../../src/figure/index.ts';
import { readBriefingFolder } from '../../src/store/index.ts';
import { pictureType } from '../../src/store/picture-type.ts';

const png = await svgToPng('<svg xmlns="http://www.w3.org/2000/svg" width="20" height="10"/>', 20, []);

/** A segment of a JPEG file: marker, length, content (ITU-T T.81, B.1.1.4). */
function segment(marker: number, content: readonly number[]): number[] {
  const length = content.length + 2;
  return [0xff, marker, length >> 8, length & 255, ...content];
}

/** The markers of a JPEG of that size, without a picture in it: SOI, APP0, SOF0 (B.2.2), SOS, EOI. */
function jpegOf(width: number, height: number): Buffer {
  const frame = [8, height >> 8, height & 255, width >> 8, width & 255, 1, 1, 0x11, 0];
  return Buffer.from([
    ...[0xff, 0xd8],
    ...segment(0xe0, [0x4a, 0x46, 0x49, 0x46, 0]),
    ...segment(0xc0, frame),
    ...segment(0xda, [1, 1, 0, 0, 63, 0]),
    ...[0, 0xff, 0xd9],
  ]);
}
const jpeg = jpegOf(640, 480);

let folder = '';
let place = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'emberline-briefing-'));
  place = join(folder, 'briefing');
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe('a briefing folder', () => {
  test('may be missing', async () => {
    expect(await readBriefingFolder(folder)).toEqual({ texts: new Map(), pictures: new Map(), faults: [] });
  });

  test('gives texts and pictures, and is left as it was', async () => {
    await mkdir(place);
    await writeFile(join(place, 'set-up.md'), 'Use the *blue* valve.');
    await writeFile(join(place, 'valve.png'), png);
    await writeFile(join(place, 'bench.JPG'), jpeg);
    const { texts, pictures, faults } = await readBriefingFolder(folder);
    expect(texts).toEqual(new Map([['set-up', 'Use the *blue* valve.']]));
    expect([...pictures].map(([name, { type }]) => [name, type])).toEqual([
      ['bench.JPG', 'image/jpeg'],
      ['valve.png', 'image/png'],
    ]);
    expect(faults).toEqual([]);
    expect((await readdir(place)).toSorted()).toEqual(['bench.JPG', 'set-up.md', 'valve.png']);
  });

  test('leaves out links, folders, wrong contents and what is too large, each with a sentence', async () => {
    await mkdir(place);
    await mkdir(join(place, 'folder.md'));
    await writeFile(join(folder, 'secret'), 'secret');
    await symlink(join(folder, 'secret'), join(place, 'link.md'));
    await writeFile(join(place, 'broken.md'), Buffer.from([0xff, 0xfe, 0xfd]));
    await writeFile(join(place, 'long.md'), 'x'.repeat(70_000));
    await writeFile(join(place, 'page.png'), '<svg onload="alert(1)"/>');
    await writeFile(join(place, 'drawing.svg'), '<svg/>');
    await writeFile(join(place, '.hidden'), '');
    const { texts, pictures, faults } = await readBriefingFolder(folder);
    expect(texts.size + pictures.size).toBe(0);
    expect(faults).toHaveLength(6);
    for (const name of ['folder.md', 'link.md', 'broken.md', 'long.md', 'page.png', 'drawing.svg']) {
      expect(faults.join('\n')).toContain(`briefing/${name}`);
    }
  });

  test('leaves out pictures that are damaged, cut short or huge', async () => {
    await mkdir(place);
    const flipped = Buffer.from(png);
    flipped[20] = (flipped[20] ?? 0) ^ 1;
    await writeFile(join(place, 'a-flipped.png'), flipped);
    await writeFile(join(place, 'b-cut.png'), png.subarray(0, png.length - 10));
    await writeFile(join(place, 'c-cut.jpg'), jpeg.subarray(0, 20));
    await writeFile(join(place, 'd-huge.jpg'), jpegOf(30_000, 30_000));
    await writeFile(join(place, 'e-nothing.jpg'), jpegOf(0, 10));
    const { pictures, faults } = await readBriefingFolder(folder);
    expect([...pictures.keys()]).toEqual([]);
    expect(faults.map((fault) => /damaged|px/.exec(fault)?.[0])).toEqual([
      'damaged',
      'damaged',
      'damaged',
      'px',
      'px',
    ]);
  });

  test('bears any bytes in a picture', () => {
    const begin = fc.constantFrom([0xff, 0xd8, 0xff], [...png.subarray(0, 8)], [...png.subarray(0, 40)], []);
    fc.assert(
      fc.property(begin, fc.uint8Array({ maxLength: 300 }), (first, rest) => {
        expect(typeof pictureType(Uint8Array.from([...first, ...rest])).ok).toBe('boolean');
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  test('is not followed where it is a link itself', async () => {
    await mkdir(join(folder, 'elsewhere'));
    await writeFile(join(folder, 'elsewhere', 'set-up.md'), 'secret');
    await symlink(join(folder, 'elsewhere'), place);
    const { texts, faults } = await readBriefingFolder(folder);
    expect(texts.size).toBe(0);
    expect(faults).toHaveLength(1);
  });
});

import { mkdir, mkdtemp, readdir, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readBriefingFolder } from '../../src/store/index.ts';

// The first bytes that the standards ask for: PNG (ISO/IEC 15948, 5.2), JPEG (ITU-T T.81, B.1.1.3).
const png = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0]);
const jpeg = Buffer.from([0xff, 0xd8, 0xff, 0xe0]);

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

  test('is not followed where it is a link itself', async () => {
    await mkdir(join(folder, 'elsewhere'));
    await writeFile(join(folder, 'elsewhere', 'set-up.md'), 'secret');
    await symlink(join(folder, 'elsewhere'), place);
    const { texts, faults } = await readBriefingFolder(folder);
    expect(texts.size).toBe(0);
    expect(faults).toHaveLength(1);
  });
});

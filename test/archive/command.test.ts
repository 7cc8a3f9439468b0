import {
  appendFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { removeTexts } from '../../src/archive/index.ts';
import { archive } from '../../src/cli/archive-folder.ts';
import { appendDecision, openTrail, readArchive, readTrail, textHash } from '../../src/store/index.ts';
import { runCommand } from '../cli/run.ts';
import { decayText } from '../hostile/recording.ts';
import { courseIn, plain, put, repaired } from './folder.ts';

const base = mkdtempSync(join(tmpdir(), 'emberline-archive-command-'));
afterAll(() => rmSync(base, { recursive: true, force: true }));
let folder = '';
let folders = 0;
beforeEach(() => {
  folders += 1;
  folder = join(base, `course ${folders}`);
  courseIn(folder);
});

const there = (path: string) => existsSync(join(folder, path));
const fileOf = (path: string) =>
  join(
    'archive',
    'samples',
    'term=2026-autumn',
    'section=A',
    `group=${path.split('/')[2]}`,
    'brass-12_60-1.parquet',
  );

/** The command, and what it said on one line. */
async function archived(...options: string[]) {
  const { status, stdout, stderr } = await runCommand(['archive', folder, ...options]);
  return { status, said: stdout.replace(/\s+/g, ' '), stdout, stderr };
}

async function compared(): Promise<unknown> {
  const { stdout } = await runCommand(['compare', folder, '--json']);
  return JSON.parse(stdout);
}

/** The command with somebody at the terminal. */
async function asked(answer: boolean, options: { evenRepaired?: boolean } = {}) {
  const questions: string[] = [];
  const nowhere = { write: () => true } as unknown as NodeJS.WritableStream;
  const status = await archive(
    folder,
    { remove: true, ...options },
    { stdout: nowhere, stderr: nowhere, environment: {} },
    {
      now: Date.now,
      ask: async (question) => {
        questions.push(question);
        return answer;
      },
    },
  );
  return { status, questions };
}

describe('emberline archive', () => {
  test('puts every recording into folders by term, section and group, and says what it came to', async () => {
    const { status, said } = await archived();
    expect(status).toBe(0);
    expect(said).toContain('2 archived and held against their texts, 0 as they were');
    expect(said).toMatch(/texts 1 text can be removed .* kept back 1 text says more than the samples/);
    expect([plain, repaired].map(fileOf).every(there)).toBe(true);
    expect(there(plain)).toBe(true);
    const index = await readArchive(join(folder, 'archive'));
    expect(index.map(({ recording, sha256, repairs }) => [recording, sha256, repairs.length])).toEqual([
      [plain, textHash(decayText(1)), 0],
      [repaired, textHash(readFileSync(join(folder, repaired), 'utf8')), 1],
    ]);
    // The moment of the last writing stays with the recording.
    expect(statSync(join(folder, fileOf(plain))).mtimeMs).toBe(statSync(join(folder, plain)).mtimeMs);
  });

  test('passes by what is as it was, and archives anew what is not', async () => {
    await archived();
    const before = statSync(join(folder, fileOf(plain))).ino;
    put(folder, repaired, decayText(9));
    const { said } = await archived();
    expect(said).toContain('1 archived and held against their texts, 1 as they were');
    expect(statSync(join(folder, fileOf(plain))).ino).toBe(before);
    rmSync(join(folder, fileOf(plain)));
    expect((await archived()).said).toContain('1 archived and held against their texts, 1 as they were');
    // As where it was broken off before the index was written.
    rmSync(join(folder, 'archive', 'archive.json'));
    expect((await archived()).said).toContain('2 archived');
    expect(readdirSync(join(folder, fileOf(plain), '..'))).toEqual(['brass-12_60-1.parquet']);
  });

  test('archives anew where a person says how the text is to be read', async () => {
    await archived();
    const sha256 = textHash(decayText(1));
    const circumstances = { who: 'IK', why: 'the head is wrong', at: '2026-10-06T09:00:00Z', sha256 };
    await appendDecision(folder, plain, { kind: 'reading', read: { unit: 'degF' } }, circumstances);
    expect((await archived()).said).toContain('1 archived and held against their texts, 1 as they were');
    const texts = await compared();
    expect((await asked(true)).status).toBe(0);
    expect(there(plain)).toBe(false);
    rmSync(join(folder, 'results'), { recursive: true, force: true });
    expect(await compared()).toEqual(texts);
  });

  test('leaves a text alone that may still grow', async () => {
    writeFileSync(join(folder, plain), decayText(1));
    const { status, said } = await archived();
    expect(status).toBe(1);
    expect(said).toContain(`left out ${plain}: It was written less than 30 s ago and may still grow.`);
    expect(there(fileOf(plain))).toBe(false);
  });

  test('leaves out what is no recording, and says why', async () => {
    put(folder, 'recordings/A/A1/brass-12_60-2.txt', 'nothing\nof the kind\n');
    const { status, said } = await archived();
    expect(status).toBe(1);
    expect(said).toMatch(/left out recordings\/A\/A1\/brass-12_60-2.txt: [A-Z].*[.]/);
    expect(said).toContain('2 archived');
  });

  test('removes nothing without a yes, and what says more than its samples only when told', async () => {
    expect(await asked(false)).toEqual({ status: 0, questions: ['Remove this text?'] });
    expect(there(plain) && there(repaired)).toBe(true);
    expect((await asked(true)).questions).toEqual(['Remove this text?']);
    expect([there(plain), there(repaired)]).toEqual([false, true]);
    expect((await asked(true, { evenRepaired: true })).questions).toEqual(['Remove this text?']);
    expect(there(repaired)).toBe(false);
    // Nothing is left to ask about.
    expect((await asked(true, { evenRepaired: true })).questions).toEqual([]);
  });

  test('asks nobody where there is no terminal', async () => {
    const { status, stderr } = await archived('--remove');
    expect(status).toBe(2);
    expect(stderr).toContain('nobody can be asked here: give --yes');
    expect(there(plain)).toBe(true);
  });

  test('refuses wishes that do not go together', async () => {
    const elsewhere = join(base, `elsewhere ${folders}`);
    for (const options of [
      ['--remove', '--out', elsewhere],
      ['--remove', '--check'],
      ['--yes'],
      ['--remove', '--json'],
    ]) {
      expect((await archived(...options)).status).toBe(2);
    }
    expect(existsSync(elsewhere)).toBe(false);
    expect((await archived('--out', elsewhere)).status).toBe(0);
    expect(readdirSync(elsewhere).sort()).toEqual(['archive.json', 'recordings', 'samples']);
    expect(there('archive')).toBe(false);
  });

  test('tells a program everything', async () => {
    const { stdout } = await archived('--remove', '--yes', '--json');
    expect(JSON.parse(stdout)).toMatchObject({
      recordings: [
        { recording: plain, state: 'archived', removed: true, why: null, samples: 1200, repairs: [] },
        {
          recording: repaired,
          state: 'archived',
          removed: false,
          repairs: [expect.stringContaining('Left out: 1')],
        },
      ],
    });
  });
});

describe('a recording whose text was removed', () => {
  test('is compared, listed and decided about as before', async () => {
    const at = '2026-10-06T09:00:00Z';
    const sha256 = textHash(decayText(1));
    await appendDecision(folder, plain, { kind: 'reject' }, { who: 'IK', why: 'a draught', at, sha256 });
    const before = await compared();
    expect(JSON.stringify(before)).toContain('a draught');
    await archived('--remove', '--even-repaired', '--yes');
    expect([there(plain), there(repaired)]).toEqual([false, false]);
    expect(await compared()).toEqual(before);
    rmSync(join(folder, 'results'), { recursive: true, force: true });
    expect(await compared()).toEqual(before);
  });

  test('is analyzed under the path that it had', async () => {
    const analyzed = async () => {
      const { status, stdout } = await runCommand([
        'analyze',
        join(folder, repaired),
        '--experiment',
        folder,
        '--json',
      ]);
      const { recording, ...result } = JSON.parse(stdout);
      const { path: _path, ...known } = recording;
      return { status, known, result };
    };
    const before = await analyzed();
    expect(before.status).toBe(0);
    await archived('--remove', '--even-repaired', '--yes');
    expect(await analyzed()).toEqual(before);
  });

  test('is whole for emberline verify as long as its file is', async () => {
    const trail = openTrail(folder, { now: () => Date.parse('2026-10-05T10:00:00Z') });
    const who = { role: 'group', group: 'A1', label: 'group A1' };
    await trail.write({ who, deed: 'recording-kept', about: plain, sha256: textHash(decayText(1)) });
    await archived('--remove', '--yes');
    const verified = async () => {
      const { status, stdout } = await runCommand(['verify', folder]);
      return { status, said: stdout.replace(/\s+/g, ' ') };
    };
    const whole = await verified();
    expect(whole.status).toBe(0);
    expect(whole.said).toContain('recordings 2, 1 of them as the trail says');
    expect(whole.said).toContain('archived 2, 1 of them in place of a text');
    appendFileSync(join(folder, fileOf(repaired)), 'x');
    const noted = await verified();
    expect(noted.status).toBe(0);
    expect(noted.said).toContain(`the text ${repaired} is there: archive it again`);
    appendFileSync(join(folder, fileOf(plain)), 'x');
    const broken = await verified();
    expect(broken.status).toBe(1);
    expect(broken.said).toContain(`has other bytes than it had, as all that is left of ${plain}`);
    expect(broken.said).toContain(`${plain} is missing, or cannot be read, as it was kept`);
  });

  test('stands in the trail of the folder, as does each text that is removed', async () => {
    await archived('--who', 'IK');
    const again = await archived('--remove', '--yes', '--who', 'TN');
    expect(again.status).toBe(0);
    const days = [];
    for await (const day of readTrail(folder)) days.push(day);
    expect(days.flatMap(({ faults }) => faults)).toEqual([]);
    const lines = days.flatMap((day) => day.lines);
    const [entry] = (await readArchive(join(folder, 'archive'))).filter(
      ({ recording }) => recording === plain,
    );
    expect(lines.map(({ role, label, done, about }) => [role, label, done, about])).toEqual([
      ['command line', 'IK', 'archived a recording', plain],
      ['command line', 'IK', 'archived a recording', repaired],
      ['command line', 'TN', 'removed the text of an archived recording', plain],
    ]);
    expect(lines.at(-1)).toMatchObject({
      sha256: textHash(decayText(1)),
      note: `its samples are in ${fileOf(plain)}, SHA-256 ${entry?.parquet.sha256}`,
    });
    const verified = await runCommand(['verify', folder]);
    expect(verified.status).toBe(0);
  });

  test('is checked to its end', async () => {
    await archived('--remove', '--yes');
    const whole = await archived('--check');
    expect(whole.status).toBe(0);
    expect(whole.said).toContain('1 the same as their texts, 1 whole without a text');
    rmSync(join(folder, fileOf(plain)));
    writeFileSync(join(folder, fileOf(repaired)), readFileSync(join(folder, repaired)));
    const { status, said } = await archived('--check');
    expect(status).toBe(1);
    expect(said).toMatch(/fault recordings\/A\/A1\/brass-12_60-1.txt: The file .* is missing/);
    expect(said).toMatch(/fault recordings\/A\/A2\/brass-12_60-1.txt: The file .* has other bytes/);
  });
});

describe('what others put there', () => {
  test('is removed only where it is the very text that was archived', async () => {
    await archived();
    const root = join(folder, 'archive');
    const entries = await readArchive(root);
    put(folder, plain, decayText(1).replace('80.0', '80.1'));
    rmSync(join(folder, repaired));
    symlinkSync(join(folder, plain), join(folder, repaired));
    const removals = await removeTexts(
      folder,
      root,
      entries,
      () => undefined,
      async ({ recording }) => {
        throw new Error(`${recording} was removed`);
      },
    );
    expect(removals.map(({ why }) => why)).toEqual([
      expect.stringMatching(/Text and archive are not the same/),
      expect.stringMatching(/no plain file/),
    ]);
    expect(there(plain) && there(repaired)).toBe(true);
  });

  test('leads nobody out of the folder', async () => {
    const outside = join(base, `outside ${folders}`);
    mkdirSync(outside);
    mkdirSync(join(folder, 'archive'));
    symlinkSync(outside, join(folder, 'archive', 'samples'));
    const { status, said } = await archived();
    expect(status).toBe(1);
    expect(said).toContain('behind a link that leads elsewhere');
    expect(readdirSync(outside)).toEqual([]);
    rmSync(join(folder, 'archive'), { recursive: true });
    symlinkSync(outside, join(folder, 'archive'));
    expect((await archived()).stderr).toContain('is behind a link that leads out');
    expect(readdirSync(outside)).toEqual([]);
  });

  test.each([
    ['no JSON', '{'],
    ['another format', '{"format":"something","recordings":[]}'],
    ['a path that climbs out', (text: string) => text.replaceAll('samples/', '../samples/')],
    ['a hash that is none', (text: string) => text.replace(/"sha256": "[0-9a-f]{64}"/, '"sha256": "x"')],
  ])('as an index is refused: %s', async (_name, spoilt) => {
    await archived('--remove', '--yes');
    const index = join(folder, 'archive', 'archive.json');
    writeFileSync(index, typeof spoilt === 'string' ? spoilt : spoilt(readFileSync(index, 'utf8')));
    const { status, stderr } = await archived();
    expect(status).toBe(2);
    expect(stderr).toContain('is no index of an archive');
    expect((await runCommand(['verify', folder])).stdout.replace(/\s+/g, ' ')).toContain(
      'fault archive/archive.json: is no index of an archive',
    );
  });
});

import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { faultNames, practiceKeySchema } from '../../src/practice/index.ts';
import { runCommand } from './run.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-practice-cli-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const course = join(root, 'course');
beforeAll(async () => {
  expect((await runCommand(['new', course])).status).toBe(0);
});

/** Small and quick: one body, one trial each, ten readings a second. */
const small = ['--conditions', 'aluminium-8 at 120', '--repeats', '1', '--rate', '10 Hz'];

/** Paths of all files below a folder, with their digests. */
function digests(folder: string): Map<string, string> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) =>
    entry.isFile(),
  );
  const found = files.map((entry): [string, string] => {
    const path = join(entry.parentPath, entry.name);
    return [path.slice(folder.length + 1), createHash('sha256').update(readFileSync(path)).digest('hex')];
  });
  return new Map(found.sort(([a], [b]) => (a < b ? -1 : 1)));
}

function lines(text: string): string[] {
  return text.split('\n');
}

describe('emberline practice', () => {
  test('makes the same bytes from the same seed, and others from another', async () => {
    const make = async (name: string, seed: string) => {
      const out = join(root, name);
      const words = [
        'practice',
        course,
        ...small,
        '--faults',
        '50%',
        '--groups',
        '6',
        '--seed',
        seed,
        '--out',
        out,
      ];
      const { status, stderr } = await runCommand(words);
      expect(stderr).toBe('');
      expect(status).toBe(0);
      return digests(out);
    };
    const first = await make('one', 'iron filings');
    // Six recordings, the experiment file, and the sheets of the groups whose recording has no fault.
    expect(first.size).toBe(6 + 1 + 3);
    expect(await make('two', 'iron filings')).toEqual(first);
    const other = await make('three', 'brass filings');
    const recordings = (made: ReadonlyMap<string, string>) => {
      return [...made.keys()].filter((path) => !path.startsWith('submissions'));
    };
    expect(recordings(other)).toEqual(recordings(first));
    for (const [path, digest] of other) {
      if (path !== 'experiment.yaml') expect(first.get(path)).not.toBe(digest);
    }
    // The key is the same too, and knows every file.
    const answers = async (name: string) => {
      const { stdout } = await runCommand(['practice', '--answers', join(root, name), '--json']);
      return practiceKeySchema.parse(JSON.parse(stdout));
    };
    const key = await answers('one');
    expect(await answers('two')).toEqual(key);
    for (const { path, sha256 } of key.recordings) expect(first.get(path)).toBe(sha256);
    expect(key.recordings.filter(({ faults }) => faults.length > 0)).toHaveLength(3);
    expect(key.recordings.filter(({ handedIn }) => handedIn !== null)).toHaveLength(3);
  });

  test('tells the instructor where things are, and no one else the seed', async () => {
    const { status, stdout } = await runCommand(['practice', course, ...small, '--seed', 'a secret seed']);
    expect(status).toBe(0);
    const out = join(course, 'practice');
    expect(stdout).toContain('4: 4 groups, 1 condition, 1 trial each');
    expect(stdout).toContain('a secret seed');
    expect(stdout).toContain(`emberline practice --answers ${join(course, 'practice-answers', 'key.json')}`);
    for (const path of digests(out).keys()) {
      const text = readFileSync(join(out, path), 'latin1').replaceAll('\u0000', '');
      expect(text).not.toContain('a secret seed');
      expect(statSync(join(out, path)).mtimeMs).toBe(statSync(out).mtimeMs);
    }
    expect(readdirSync(course).filter((name) => name.startsWith('.'))).toEqual([]);
    // A second time nothing is written over.
    const again = await runCommand(['practice', course, ...small]);
    expect(again.status).toBe(2);
    expect(again.stderr).toMatch(/is there already .*move it away, or give --/);
    // What was made is an experiment folder of its own.
    const compared = await runCommand(['compare', out, '--json']);
    expect(compared.status).toBe(0);
    const schema = z.object({ recordings: z.array(z.object({ verdict: z.string() })) });
    const verdicts = schema.parse(JSON.parse(compared.stdout)).recordings.map(({ verdict }) => verdict);
    expect(verdicts).toHaveLength(4);
    expect(verdicts).not.toContain('repeat');
  });

  test('makes an exercise: a folder and a task for each group, the key outside', async () => {
    const out = join(root, 'hand-out');
    const words = [
      'practice',
      course,
      ...small,
      '--exercise',
      '--fault',
      'stopped-early:A2',
      '--out',
      out,
      '--json',
    ];
    const { status, stdout } = await runCommand(words);
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ out, exercise: true, encrypted: false, faults: 1 });
    expect(readdirSync(out).sort()).toEqual(['A1', 'A2', 'B1', 'B2']);
    for (const group of readdirSync(out)) {
      expect(readdirSync(join(out, group)).sort()).toEqual(['aluminium-8_120_1.txt', 'task.md']);
      expect(readFileSync(join(out, group, 'task.md'), 'utf8')).toContain(`group ${group}`);
    }
    const shown = await runCommand(['practice', '--answers', out]);
    expect(shown.status).toBe(0);
    expect(shown.stdout).toContain('stopped-early: error fraction at the end 0.');
    expect(
      lines(shown.stdout)
        .slice(1)
        .every((line) => line.length <= 80),
    ).toBe(true);
  });

  test('encrypts the key with a passphrase', async () => {
    const out = join(root, 'encrypted');
    const key = join(root, 'kept', 'my-key');
    const words = ['practice', course, ...small, '--groups', '1', '--out', out, '--key', key];
    const secret = { EMBERLINE_PASSPHRASE: 'crushed ice' };
    const made = await runCommand(words, secret);
    expect(made.stdout).toContain('Encrypted with the passphrase');
    expect(made.stdout).not.toContain('crushed ice');
    expect((await runCommand(['practice', '--answers', key])).stderr).toMatch(
      /my-key: is sealed .*--passphrase-file/,
    );
    const file = join(root, 'passphrase');
    writeFileSync(file, 'crushed ice\n');
    const opened = await runCommand(['practice', '--answers', key, '--passphrase-file', file]);
    expect(opened.status).toBe(0);
    expect(opened.stdout).toContain('aluminium-8 at 120');
  });

  test('says what is wrong with an option, and leaves nothing behind', async () => {
    const out = join(root, 'never');
    const refused = async (...words: string[]) => {
      const { status, stdout, stderr } = await runCommand([
        'practice',
        course,
        ...small,
        '--out',
        out,
        ...words,
      ]);
      expect(status).toBe(2);
      expect(stdout).toBe('');
      expect(existsSync(out)).toBe(false);
      expect(existsSync(`${out}-answers`)).toBe(false);
      return stderr;
    };
    expect(await refused('--fault', 'gremlins')).toContain('write one of baseline-short');
    expect(await refused('--fault', 'clipped:')).toContain('code of a group');
    expect(await refused('--fault', 'clipped:Z9')).toContain('Z9, which is not in this set');
    expect(await refused('--faults', 'clipped')).toContain('--fault');
    expect(await refused('--faults', '120%')).toContain('as 20%');
    expect(await refused('--groups', 'x')).toContain('whole number');
    expect(await refused('--rate', '10')).toContain('100 Hz');
    expect(await refused('--seed', ' ')).toContain('--seed');
    expect(await refused('--conditions', 'lead-4')).toContain('brass-12 at 120');
    expect(await refused('--key', join(out, 'key.json'))).toContain('outside');
    expect((await runCommand(['practice'])).stderr).toContain('--answers <key>');
    expect((await runCommand(['practice', join(root, 'nowhere')])).stderr).toContain('no such file');
    expect((await runCommand(['practice', '--answers'])).stderr).toContain('name the key file');
  });

  test('explains itself, every fault by its name', async () => {
    const { status, stdout } = await runCommand(['practice', '--help']);
    expect(status).toBe(0);
    for (const name of faultNames) expect(stdout).toContain(`\n  ${name} `);
  });
});

const analyzed = z.object({
  recording: z.object({ path: z.string() }),
  timeConstant: z.object({ interval: z.tuple([z.number(), z.number()]) }).nullable(),
  verdict: z.string(),
});

describe('a clean set, analyzed from its text', () => {
  test('has no trial to repeat, and intervals that hold the truth', async () => {
    const out = join(root, 'clean');
    const words = ['practice', course, '--repeats', '1', '--rate', '20 Hz', '--seed', 'clean', '--out', out];
    expect((await runCommand(words)).status).toBe(0);
    const { stdout: keyText } = await runCommand(['practice', '--answers', out, '--json']);
    const key = practiceKeySchema.parse(JSON.parse(keyText));
    const results: z.output<typeof analyzed>[] = [];
    for (const { path } of key.recordings) {
      const { stdout } = await runCommand(['analyze', join(out, path), '--experiment', out, '--json']);
      results.push(analyzed.parse(JSON.parse(stdout)));
    }
    expect(results).toHaveLength(20);
    const missed = results.filter(({ timeConstant }, i) => {
      const truth = key.recordings[i]?.truth.timeConstant ?? Number.NaN;
      const [low, high] = timeConstant?.interval ?? [Number.NaN, Number.NaN];
      return !(truth >= low && truth <= high);
    });
    // 95 % intervals: of 20, more than 4 outside happen once in 400 sets (binomial).
    expect(missed.length).toBeLessThanOrEqual(4);
    expect(results.map(({ verdict }) => verdict)).not.toContain('repeat');
  });
});

import { createHash } from 'node:crypto';
import {
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
import { afterAll, describe, expect, test } from 'vitest';
import { experimentTemplate, recordingPlace } from '../../src/experiment/index.ts';
import {
  experimentCopy,
  findPracticeKey,
  openPracticeFolder,
  PracticeFolderError,
  PracticeKeyError,
  readPassphrase,
  readPracticeKey,
  sealText,
  usualKeyPath,
} from '../../src/store/index.ts';
import { openSealed } from '../../src/store/practice-seal.ts';
import { experimentOf } from '../experiment/read.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-practice-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

let count = 0;
function place(): string {
  count += 1;
  const path = join(root, `p${count}`);
  mkdirSync(path);
  return path;
}

async function messageOf(work: Promise<unknown>): Promise<string> {
  return work.then(
    () => 'nothing was thrown',
    (error: unknown) => {
      if (error instanceof PracticeFolderError || error instanceof PracticeKeyError) return error.message;
      throw error;
    },
  );
}

const bytes = [Buffer.from('one '), Buffer.from('two')];

describe('a practice folder', () => {
  test('appears whole at the end, and the key beside it for its owner alone', async () => {
    const folder = place();
    const out = join(folder, 'deep', 'out');
    const key = usualKeyPath(out);
    const made = await openPracticeFolder({ out, key });
    const digest = await made.write('recordings/A/x.txt', bytes);
    await made.write('b.txt', bytes);
    expect(digest).toBe(createHash('sha256').update('one two').digest('hex'));
    expect(existsSync(out)).toBe(false);
    expect(existsSync(key)).toBe(false);
    await made.finish('the key');
    expect(readFileSync(join(out, 'recordings/A/x.txt'), 'utf8')).toBe('one two');
    expect(readFileSync(key, 'utf8')).toBe('the key');
    expect(key).toBe(join(folder, 'deep', 'out-answers', 'key.json'));
    expect(readdirSync(join(folder, 'deep')).sort()).toEqual(['out', 'out-answers']);
    if (process.platform !== 'win32') expect(statSync(key).mode & 0o077).toBe(0);
    const times = ['b.txt', 'recordings/A/x.txt', 'recordings/A', 'recordings'].map(
      (path) => statSync(join(out, path)).mtimeMs,
    );
    expect(new Set(times).size).toBe(1);
  });

  test('that is given up leaves nothing', async () => {
    const folder = place();
    const made = await openPracticeFolder({ out: join(folder, 'out'), key: join(folder, 'key.json') });
    await made.write('a.txt', bytes);
    await made.discard();
    expect(readdirSync(folder)).toEqual([]);
  });

  test('writes over nothing', async () => {
    const folder = place();
    writeFileSync(join(folder, 'file'), '');
    mkdirSync(join(folder, 'full'));
    writeFileSync(join(folder, 'full', 'x'), '');
    mkdirSync(join(folder, 'empty'));
    const key = join(folder, 'key.json');
    expect(await messageOf(openPracticeFolder({ out: join(folder, 'full'), key }))).toMatch(
      /is there already .*--out/,
    );
    expect(await messageOf(openPracticeFolder({ out: join(folder, 'file'), key }))).toContain(
      'give --out another path',
    );
    writeFileSync(key, 'old');
    expect(await messageOf(openPracticeFolder({ out: join(folder, 'new'), key }))).toMatch(
      /is there already .*--key/,
    );
    expect(readFileSync(key, 'utf8')).toBe('old');
    const made = await openPracticeFolder({ out: join(folder, 'empty'), key: join(folder, 'k2') });
    await made.write('a', bytes);
    await expect(made.write('a', bytes)).rejects.toThrow(PracticeFolderError);
    await made.finish('x');
    expect(readdirSync(join(folder, 'empty'))).toEqual(['a']);
  });

  test('never holds the key, by whatever way it is named', async () => {
    const folder = place();
    const out = join(folder, 'out');
    const inside = (key: string) => messageOf(openPracticeFolder({ out, key }));
    for (const key of ['out/key.json', 'out', 'x/../out/deep/key.json', 'OUT/key.json']) {
      expect(await inside(join(folder, ...key.split('/')))).toContain('outside');
      expect(await inside(`${folder}/${key}`)).toContain('outside');
    }
    mkdirSync(out);
    symlinkSync(out, join(folder, 'link'));
    expect(await inside(join(folder, 'link', 'key.json'))).toContain('outside');
    // A name that only begins alike is another folder.
    expect(await inside(join(folder, 'out-answers', 'key.json'))).toBe('nothing was thrown');
  });

  test('is not left by a path', async () => {
    const folder = place();
    const made = await openPracticeFolder({ out: join(folder, 'out'), key: join(folder, 'key') });
    for (const path of ['../x', '/tmp/emberline-x', 'a/../../x', '.']) {
      expect(await messageOf(made.write(path, bytes))).toContain('leads out of the folder');
    }
    await made.discard();
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe('a sealed text', () => {
  const secret = '{"timeConstant": 12.5}';
  const sealed = sealText(secret, 'crushed ice');

  test('cannot be read by accident, and opens again', () => {
    const packed = sealText(secret, null);
    expect(packed).not.toContain('timeConstant');
    expect(openSealed(packed, null)).toBe(secret);
  });

  test('with a passphrase opens only with it, and never when changed', () => {
    expect(openSealed(sealed, 'crushed ice')).toBe(secret);
    expect(() => openSealed(sealed, 'crushed icf')).toThrow(/passphrase is another one/);
    expect(() => openSealed(sealed, null)).toThrow(/EMBERLINE_PASSPHRASE/);
    const parsed: Record<string, unknown> = JSON.parse(sealed);
    const content = Buffer.from(String(parsed['content']), 'base64');
    content[3] = (content[3] ?? 0) ^ 1;
    const changed = JSON.stringify({ ...parsed, content: content.toString('base64') });
    expect(() => openSealed(changed, 'crushed ice')).toThrow(PracticeKeyError);
  });

  test('that is none, or asks for gigabytes, is refused', () => {
    const encrypted: Record<string, unknown> = JSON.parse(sealed);
    const plain: Record<string, unknown> = JSON.parse(sealText(secret, null));
    for (const text of [
      '',
      'null',
      '[]',
      '{"format":1}',
      JSON.stringify({ ...encrypted, cost: 2 ** 30 }),
      JSON.stringify({ ...encrypted, blockSize: 1e6 }),
      JSON.stringify({ ...encrypted, salt: 'ä' }),
      JSON.stringify({ ...plain, content: 'AAAA' }),
    ]) {
      expect(() => openSealed(text, 'x')).toThrow(PracticeKeyError);
    }
  });
});

describe('a key file', () => {
  test('is found in and beside a folder', async () => {
    const folder = place();
    const out = join(folder, 'practice');
    mkdirSync(out);
    mkdirSync(`${out}-answers`);
    const key = usualKeyPath(out);
    expect(await messageOf(findPracticeKey(out))).toContain('no key in or beside');
    writeFileSync(key, '');
    expect(await findPracticeKey(key)).toBe(key);
    expect(await findPracticeKey(out)).toBe(key);
    expect(await findPracticeKey(`${out}/`)).toBe(key);
    expect(await findPracticeKey(`${out}-answers`)).toBe(key);
    expect(await findPracticeKey(folder)).toBe(key);
    mkdirSync(join(folder, 'exercise-answers'));
    writeFileSync(join(folder, 'exercise-answers', 'key.json'), '');
    expect(await messageOf(findPracticeKey(folder))).toContain('several keys');
    expect(await messageOf(findPracticeKey(join(folder, 'none')))).toContain('there is no such file');
  });

  test('of another kind is an error with its path', async () => {
    const folder = place();
    const path = join(folder, 'key.json');
    for (const text of ['', '{}', 'x'.repeat(100), sealText('[]', null), sealText('no json', null)]) {
      writeFileSync(path, text);
      expect(await messageOf(readPracticeKey(path, null))).toContain(`${path}: `);
    }
    expect(await messageOf(readPracticeKey(folder, null))).toContain('is not a file');
  });

  test('opens with the first line of a passphrase file', async () => {
    const path = join(place(), 'passphrase');
    writeFileSync(path, 'crushed ice \r\nmore\n');
    expect(await readPassphrase(path)).toBe('crushed ice ');
    writeFileSync(path, '\n');
    expect(await messageOf(readPassphrase(path))).toContain('first line is empty');
    writeFileSync(path, 'x'.repeat(5000));
    expect(await messageOf(readPassphrase(path))).toContain('too large');
  });
});

describe('the copy of an experiment file', () => {
  const group = { code: 'g05', section: 'A', bench: 'bench-2' };

  async function copy(text: string, pattern: string, groups = [group]): Promise<string> {
    const path = join(place(), 'experiment.yaml');
    writeFileSync(path, text);
    return experimentCopy(path, { experiment: experimentOf(text), pattern, groups });
  }

  test('has the groups that were made up, and keeps its comments', async () => {
    const own = 'recordings/{group}/{body}_{flow}_{repeat}';
    const text = await copy(experimentTemplate, own);
    expect(text).toContain('# The room. The pressure is what a barometer in the room shows');
    const experiment = experimentOf(text);
    expect(experiment.groups['g05']).toEqual({ section: 'A', bench: 'bench-2' });
    expect(recordingPlace(experiment, 'recordings/g05/brass-12_120_1.txt')).toMatchObject({ group: 'g05' });
    expect(await copy(experimentTemplate, own, [])).toBe(experimentTemplate);
  });

  test('has the pattern that was used, and only codes that it knows', async () => {
    const text = 'bodies: { a: {} } # one\nflows: { b: still }\ngroups:\n';
    const pattern = 'recordings/{group}/{body}_{flow}_{repeat}';
    const made = experimentOf(await copy(text.replace('groups:\n', ''), pattern));
    expect(made.recordings).toBe(pattern);
    expect(made.groups['g05']).toEqual({});
  });
});

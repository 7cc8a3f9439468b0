import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { openEarlierTerms, termOf } from '../../src/store/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-terms-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

function folder(name: string, text: string): string {
  const path = join(root, name);
  mkdirSync(path);
  writeFileSync(join(path, 'experiment.yaml'), text);
  return path;
}

const present = folder('now', 'term: 2026-autumn\n');
folder('spring', 'term: 2026-spring\nearlier-terms: [../unnamed]\n');
folder('unnamed', 'course: Thornwick\n');
folder('faulty', 'term: ok\nmains: 55 Hz\n');
writeFileSync(join(root, 'file'), '');
mkdirSync(join(root, 'empty'));

describe('earlier terms', () => {
  test('are opened in the order in which they are written, by their own names', async () => {
    const { terms, missing } = await openEarlierTerms(present, ['../spring', join(root, 'unnamed')]);
    expect(terms.map(({ term, written }) => [term, written])).toEqual([
      ['2026-spring', '../spring'],
      ['unnamed', join(root, 'unnamed')],
    ]);
    expect(terms[1]?.experiment.course).toBe('Thornwick');
    expect(missing).toEqual([]);
  });

  test('that cannot be used are named, with what to do, and the others count', async () => {
    const { terms, missing } = await openEarlierTerms(present, [
      '../gone',
      '../file',
      '../empty',
      '../faulty',
      '../spring',
    ]);
    expect(terms.map(({ term }) => term)).toEqual(['2026-spring']);
    expect(missing.map(({ written }) => written)).toEqual(['../gone', '../file', '../empty', '../faulty']);
    expect(missing[0]?.message).toContain('there is no such file');
    expect(missing[1]?.message).toContain('no folder');
    expect(missing[2]?.message).toContain('cannot be used');
    expect(missing[3]?.message).toMatch(/line 2: must be 50 Hz or 60 Hz.*mend it there/);
  });

  test('count once, and never the present folder, by whatever path', async () => {
    symlinkSync(join(root, 'spring'), join(root, 'link'));
    const { terms, missing } = await openEarlierTerms(present, ['../spring', '../link', '.']);
    expect(terms).toHaveLength(1);
    expect(missing.map(({ message }) => message)).toEqual([
      'It is named twice: take it out of the list of earlier terms.',
      'It is this very folder: take it out of the list of earlier terms.',
    ]);
  });

  test('are not written to', async () => {
    const before = readdirSync(join(root, 'spring'));
    const { mtimeMs } = statSync(join(root, 'spring'));
    await openEarlierTerms(present, ['../spring']);
    expect(readdirSync(join(root, 'spring'))).toEqual(before);
    expect(statSync(join(root, 'spring')).mtimeMs).toBe(mtimeMs);
  });
});

test('a term without a name goes by its folder', () => {
  expect(termOf('/srv/courses/2024-spring/', { term: undefined })).toBe('2024-spring');
  expect(termOf('/srv/courses/2024-spring', { term: 'spring' })).toBe('spring');
});

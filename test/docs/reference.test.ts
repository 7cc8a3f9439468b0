import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { allPages, brokenLinks } from '../../scripts/docs/links.ts';
import { unknownCommands } from '../../scripts/docs/named-commands.ts';
import { referenceFolder, referencePages } from '../../scripts/docs/pages.ts';

const made = referencePages();

describe('the pages that are made', () => {
  test.each([...made.keys()])('%s is as the source has it; else run npm run docs', (path) => {
    const kept = readFileSync(join(referenceFolder, path), 'utf8').replaceAll('\r\n', '\n');
    expect(kept === made.get(path), 'run npm run docs, and look at what changed').toBe(true);
  });

  test('are all there are in their folder', () => {
    const there = readdirSync(referenceFolder, { recursive: true, encoding: 'utf8' })
      .map((name) => name.replaceAll('\\', '/'))
      .filter((name) => name.includes('.'));
    expect(there.sort()).toEqual([...made.keys()].sort());
  });
});

describe('every page', () => {
  const pages = allPages();

  test('links to what is there', () => {
    expect(pages.length).toBeGreaterThan(10);
    expect(brokenLinks(pages)).toEqual([]);
  });

  test('below docs/ stands in the list of all', () => {
    const list = readFileSync('docs/README.md', 'utf8');
    const unlisted = pages
      .map(({ path }) => path)
      .filter((path) => path.startsWith('docs/') && path !== 'docs/README.md')
      .filter((path) => !list.includes(`](${path.slice('docs/'.length)})`));
    expect(unlisted).toEqual([]);
  });

  test('names commands, options and scripts that are there', () => {
    expect(unknownCommands(pages)).toEqual([]);
  });
});

describe('what is looked for', () => {
  const page = (text: string) => [{ path: 'docs/some.md', text }];

  test.each([
    ['[a](nowhere.md)', 'docs/some.md links to nowhere.md: there is no such file.'],
    ['[a](archive.md#no-such)', 'docs/some.md links to archive.md#no-such: the page has no such heading.'],
    ['![a](../../outside.png)', 'docs/some.md links to ../../outside.png: it leads out of the source.'],
  ])('%s is found', (text, fault) => {
    expect(brokenLinks(page(text))).toEqual([fault]);
  });

  test.each([
    ['[a](archive.md#samples) [b](https://example.org/) [c](../README.md)'],
    ['`[a](nowhere.md)`'],
    ['```\n[a](nowhere.md)\n```'],
  ])('%s is none', (text) => {
    expect(brokenLinks(page(text))).toEqual([]);
  });

  test.each([
    ['`emberline analyse x.txt`', 'docs/some.md: there is no command emberline analyse.'],
    ['`emberline plan . --brief`', 'docs/some.md: emberline plan has no option --brief.'],
    [
      '```sh\nnpx emberline analyze \\\n  x.txt --breif | head --lines 3\n```',
      'docs/some.md: emberline analyze has no option --breif.',
    ],
    ['`emberline --verison`', 'docs/some.md: emberline has no option --verison.'],
    ['Type npm run dmeo first.', 'docs/some.md names npm run dmeo, which package.json lacks.'],
  ])('%s is found', (text, fault) => {
    expect(unknownCommands(page(text))).toEqual([fault]);
  });

  test('commands as they are typed are none', () => {
    const text = '`emberline analyze x.txt --json > y`, `emberline <command> --help`, `npm run docs`';
    expect(unknownCommands(page(text))).toEqual([]);
  });
});

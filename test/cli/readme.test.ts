import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { runCommand } from './run.ts';

const readme = readFileSync('README.md', 'utf8');
const course = 'demo/thornwick';
const group = `${course}/recordings/A/A2`;

/** Fenced blocks without a language: what the README says that a command prints. */
function printedBlocks(text: string): string[] {
  const blocks: string[] = [];
  let fence: string | null = null;
  let lines: string[] = [];
  for (const line of text.split('\n')) {
    if (!line.startsWith('```')) {
      lines.push(line);
      continue;
    }
    if (fence === '```') blocks.push(lines.join('\n'));
    fence = fence === null ? line : null;
    lines = [];
  }
  return blocks;
}

test.each([
  [['analyze', `${course}/recordings/A/A1/brass-12_120-1.txt`, '--experiment', course]],
  [
    [
      'analyze',
      ...readdirSync(group)
        .sort()
        .map((name) => `${group}/${name}`),
      '--experiment',
      course,
      '--brief',
    ],
  ],
  [['predict', course, '--condition', 'brass-12_120']],
])('the README shows what %j prints', async (words) => {
  const { stdout } = await runCommand(words);
  expect(printedBlocks(readme).some((block) => stdout.includes(block))).toBe(true);
});

test('every file that the README links to is there', () => {
  const links = [...readme.matchAll(/\]\((?!https?:)([^)#]+)\)/g)].map(([, path = '']) => path);
  expect(links.length).toBeGreaterThan(4);
  for (const path of links) expect(() => readFileSync(path), path).not.toThrow();
});

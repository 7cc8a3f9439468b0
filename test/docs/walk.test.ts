import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { blocksIn } from '../../scripts/docs/blocks.ts';
import { allPages } from '../../scripts/docs/links.ts';
import { age, notPrinted, stepsIn, type, write } from './walk.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-walk-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

/** In this order: pages go on from the folders of those before them. */
const pages = [
  'docs/tutorial.md',
  'docs/how-to/own-logger.md',
  'docs/how-to/own-rig.md',
  'docs/how-to/own-body.md',
  'docs/how-to/room-server.md',
  'docs/how-to/archive-a-term.md',
  'docs/how-to/marking.md',
  'docs/how-to/typescript.md',
  'docs/explanation/classroom-interval.md',
  'docs/explanation/first-instants.md',
  'docs/explanation/one-run.md',
  'docs/explanation/thirty-percent.md',
];

test('every page with commands to be typed is walked through', () => {
  const typed = allPages().filter(({ text }) => blocksIn(text).some(({ language }) => language === 'sh'));
  expect(typed.map(({ path }) => path).filter((path) => /tutorial|how-to|explanation/.test(path))).toEqual(
    [...pages].sort(),
  );
});

test('rows of the proof are quoted as they stand there', () => {
  const proof = readFileSync('docs/proof.md', 'utf8').split('\n');
  const rows = pages
    .filter((page) => page.startsWith('docs/explanation/'))
    .flatMap((page) => readFileSync(page, 'utf8').split('\n'))
    .filter((line) => /^\|.*\(\S+ to \S+\).*\|$/.test(line));
  expect(rows.length).toBeGreaterThan(4);
  expect(rows.filter((row) => !proof.includes(row))).toEqual([]);
});

test('a line that a page shows is held against what is printed', () => {
  expect(notPrinted(['a', '…', 'c x/d'], 'a\nb\nc /there/x/d\n', '/there')).toEqual([]);
  expect(notPrinted(['line …: b (1)'], 'line 12: b (1)\n', '/there')).toEqual([]);
  expect(notPrinted(['c', 'a 1'], 'a\nb\nc\n', '/there')).toEqual(['a 1']);
});

describe.each(pages)('%s', (page) => {
  const steps = stepsIn(readFileSync(page, 'utf8'));
  beforeAll(() => age(root));

  test('has steps', () => expect(steps.length).toBeGreaterThan(0));

  test.each(steps)('$name', async (step) => {
    if (step.kind === 'write') {
      write(step.file, step.block, root);
      return;
    }
    const { statuses, printed } = await type(step.commands, root);
    // A file that is refused is shown with the line at fault.
    const refused = /^\S.*, line /.test(step.shown[0] ?? '');
    // 1 says that there is something to look at.
    if (refused) expect(statuses).toEqual([2]);
    else expect(statuses, printed).not.toContain(2);
    expect(notPrinted(step.shown, printed, root)).toEqual([]);
    for (const [, file = ''] of step.commands.join('\n').matchAll(/--(?:to|out|sheets) (tutorial\/\S+)/g)) {
      expect(existsSync(join(root, file)), file).toBe(true);
    }
  });
});

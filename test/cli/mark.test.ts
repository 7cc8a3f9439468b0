import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { experimentFolder } from '../marking/folder.ts';
import { runCommand } from './run.ts';

let folder: string;
beforeAll(() => {
  folder = experimentFolder(`marking:
  asked: [point, origin, intercept]
  rubric:
    - { code: values, points: 6, words: The time constants., of: [point, origin, intercept] }
    - { code: discussion, points: 4, words: Why they differ. }
`);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (path: string) => join(folder, path);
const read = (path: string) => readFileSync(at(path), 'utf8');

test('empty sheets are written, filled, taken, marked, and told to the groups', async () => {
  const sheets = await runCommand(['mark', folder, '--sheets', at('sheets')]);
  expect(sheets.status).toBe(0);
  expect(existsSync(at('sheets/g2.xlsx'))).toBe(true);
  const filled = read('sheets/g1.csv').replace(',,,,', `,40.0,${(40 * Math.LN10).toFixed(1)},92.1,`);
  writeFileSync(at('sheets/g1.csv'), filled);

  const taken = await runCommand(['mark', folder, '--take', at('sheets/g1.csv')]);
  expect(taken.stdout).toContain(`taken: ${at('submissions/g1/')}`);

  const marked = await runCommand(['mark', folder]);
  expect(marked.status).toBe(1);
  expect(marked.stdout).toContain('nothing yet from g2');
  expect(marked.stdout.replace(/\s+/g, ' ')).toContain(
    '1 row, 3 values: 1 within, 1 right given an earlier value, 1 to look at again',
  );
  expect(marked.stdout.replace(/\s+/g, ' ')).toContain('the logarithm to base ten was taken');
  expect(
    Math.max(
      ...marked.stdout
        .split('\n')
        .slice(1)
        .map((line) => line.length),
    ),
  ).toBeLessThanOrEqual(80);

  const shown = await runCommand(['mark', folder, '--group', 'g1']);
  expect(shown.stdout).toMatch(/^ {4}time constant at 36\.8 % {2,}40\.0/m);

  const one = await runCommand(['mark', folder, '--group', 'g1', '--json']);
  expect(JSON.parse(one.stdout)).toMatchObject({
    group: 'g1',
    rows: [{ explanations: [{ part: 'measured', codes: ['base-ten'] }] }],
  });
});

test('texts and marks are written again, but for what somebody changed', async () => {
  const templates = await runCommand(['mark', folder, '--templates']);
  expect(templates.stdout).toContain('feedback/outside.md');
  writeFileSync(at('feedback/slip-base-ten.md'), 'The natural logarithm is the key LN.\n');
  writeFileSync(at('feedback/within.md'), '- {quantity}: fine.\n');
  expect((await runCommand(['mark', folder, '--templates'])).status).toBe(0);
  expect(read('feedback/within.md')).toBe('- {quantity}: fine.\n');

  await runCommand(['mark', folder, '--out', at('out')]);
  const text = read('out/g1.md');
  expect(text).toContain('- time constant at 36.8 %: fine.');
  expect(text).toContain('**Look again**');
  expect(text).toContain('The natural logarithm is the key LN.');
  const [head, row, other] = read('out/marks.csv').split('\r\n');
  expect(head).toContain('slips,roster,notes,values_suggested,values_of_6,discussion_of_4');
  // Two of three values were worked with one slip, which costs once.
  expect(row).toMatch(/^g1,,submissions\/g1\/.*,3,1,1,1,0,0,base-ten,,,4,,$/);
  expect(other).toMatch(/^g2,,nothing/);

  writeFileSync(at('out/g1.md'), 'My own words.\n');
  writeFileSync(at('feedback/outside.md'), '- {quantity}: see me.\n');
  const again = await runCommand(['mark', folder, '--out', at('out')]);
  expect(again.stdout).toContain(`changed since, left as it is: ${at('out/g1.md')}`);
  expect(read('out/g1.md')).toBe('My own words.\n');
  await runCommand(['mark', folder, '--out', at('out'), '--force']);
  expect(read('out/g1.md')).toContain('see me.');
});

test('a text with a place that nobody fills is named with its line', async () => {
  writeFileSync(at('feedback/outside.md'), 'one\n{grade}\n');
  const answer = await runCommand(['mark', folder]);
  expect(answer.status).toBe(2);
  expect(answer.stderr).toContain('feedback/outside.md, line 2: there is no {grade} here; write one of');
  writeFileSync(at('feedback/outside.md'), '- {quantity}\n');
});

test.each([
  [['--group', 'g9'], 'has handed nothing in'],
  [['--take', '/nowhere/a.csv'], 'cannot be read'],
  [['--take', 'package.json'], '.csv, .tsv, .txt or .xlsx'],
  [['--take', 'package.json', '--of', '../x'], 'no code of a group'],
])('what cannot be done is said: %j', async (words, said) => {
  const answer = await runCommand(['mark', folder, ...words]);
  expect(answer.status).toBe(2);
  expect(answer.stderr).toContain(said);
});

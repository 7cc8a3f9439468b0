/**
 * A term from its first day to the next one's plan, as it is lived: commands of the built program in a terminal, the
 * workbench in a browser, loggers that are processes of their own. The recordings are simulated from a seed, so that the
 * truth is known.
 */
import { cp, mkdir, mkdtemp, readdir, readFile, rm, utimes } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../browser/support-browser.ts';
import { Logger } from '../support/logger.ts';
import { done, edit, inShares, type Served, serve, withoutRows } from './course.ts';

const courses = await mkdtemp(join(tmpdir(), 'emberline-term-'));
const spring = join(courses, 'spring');
/** ms; what is waited for is always to be seen. */
const patience = 30_000;

/** What each bench records in the session; the jet of bench-4 will change. */
const trials = {
  A1: 'recordings/A1/brass-12_120_1.txt',
  A2: 'recordings/A2/brass-12_120_1.txt',
  A3: 'recordings/A3/aluminium-8_60_1.txt',
  A4: 'recordings/A4/aluminium-12_120_1.txt',
} as const;
const again = 'recordings/A4/aluminium-12_120_2.txt';
const names = Object.keys(trials);

const loggers = new Map(names.map((name) => [name, new Logger()]));
let served: Served | null = null;
let browser: Browser;
let page: Page;
const troubles: string[] = [];

beforeAll(async () => {
  browser = await launchBrowser();
  page = await browser.newPage();
  page.setDefaultTimeout(patience);
  page.on('pageerror', (error) => troubles.push(error.message));
});
afterAll(async () => {
  await browser?.close();
  await served?.close();
  await Promise.all([...loggers.values()].map((logger) => logger.end()));
  await rm(courses, { recursive: true, force: true });
});

/** A file of the session begins. */
async function begin(name: string, path: string): Promise<Logger> {
  const logger = loggers.get(name);
  if (logger === undefined) throw new Error(`There is no ${name}.`);
  const file = join(spring, path);
  await mkdir(dirname(file), { recursive: true });
  await logger.open(file);
  return logger;
}

const tileOf = (name: string) => page.getByRole('article', { name, exact: true });

interface Expected {
  readonly value: number;
  readonly interval: readonly [number, number];
  readonly source: string;
}

/** Time constants that the plan goes by, s. */
async function planned(folder: string, ...options: string[]): Promise<Map<string, Expected>> {
  const plan = JSON.parse(await done(courses, ['plan', folder, '--json', ...options]));
  return new Map(
    plan.conditions.map(
      (one: { condition: { body: string; flow: string }; timeConstant: Expected }): [string, Expected] => [
        `${one.condition.body} at ${one.condition.flow}`,
        one.timeConstant,
      ],
    ),
  );
}

test('a new experiment is written, changed to the rig, checked and planned', async () => {
  await done(courses, ['new', 'spring']);
  const file = join(spring, 'experiment.yaml');
  await edit(file, [
    ['term: 2026-autumn', 'term: 2026-spring'],
    ['rate: 100 Hz', 'rate: 20 Hz'],
    ['sections: [A, B]', 'sections: [A]'],
    ['benches: [bench-1, bench-2]', 'benches: [bench-1, bench-2, bench-3, bench-4]'],
    ['B1: { section: B, bench: bench-1 }', 'A3: { section: A, bench: bench-3 }'],
    ['B2: { section: B, bench: bench-2 }', 'A4: { section: A, bench: bench-4 }'],
  ]);
  expect(await done(courses, ['check', 'spring'])).toContain('5 conditions, 3 repeats each');
  expect(await done(courses, ['plan', 'spring'])).toContain('everything fits');
  await done(courses, ['report', 'spring', '--bench-sheet', '--html', '--to', 'sheet.html']);
  const sheet = await readFile(join(courses, 'sheet.html'), 'utf8');
  for (const words of ['aluminium-8', 'hot air', '95 °C']) expect(sheet).toContain(words);
  // The recordings that this term will see; their key is kept apart.
  await done(courses, [
    'practice',
    'spring',
    '--out',
    'rig',
    '--key',
    'key.json',
    '--seed',
    'thornwick',
    '--repeats',
    '2',
    '--fault',
    'jet-changed:A4',
  ]);
});

test('four benches record, the floor calls for the trial that is lost, and it is repeated', async () => {
  served = await serve(courses, 'spring');
  await page.goto(`${served.address}/floor`);
  await page.getByText('No session yet.').waitFor();

  const rest = new Map<string, string[]>();
  for (const [name, path] of Object.entries(trials)) {
    const [first = '', ...others] = await inShares(join(courses, 'rig'), path, [0.08, 0.6, 1]);
    await (await begin(name, path)).write(first);
    rest.set(name, others);
  }
  for (const name of names) await tileOf(name).getByText('baseline', { exact: true }).waitFor();
  for (const [name, [second = '']] of rest) await loggers.get(name)?.write(second);
  // Of the trial whose jet changed, the floor may say by now that it is lost.
  for (const name of names.slice(0, 3)) await tileOf(name).getByText('cooling', { exact: true }).waitFor();
  for (const [name, [, third = '']] of rest) await loggers.get(name)?.write(third);

  // At the latest when its file has rested for a while.
  await tileOf('A4')
    .getByText('repeat', { exact: true })
    .waitFor({ timeout: 2 * patience });
  await page.getByRole('list').getByRole('link', { name: /^A4/ }).waitFor();

  const [start = '', end = ''] = await inShares(join(courses, 'rig'), again, [0.08, 1]);
  await (await begin('A4', again)).write(start);
  await tileOf('A4').getByText('baseline', { exact: true }).waitFor();
  await loggers.get('A4')?.write(end);
  await tileOf('A4').getByText('aluminium-12 at 120, repeat 2').waitFor();
  expect(troubles).toEqual([]);
});

test('a mark is moved with a reason, and counts', async () => {
  await page.goto(`${served?.address}/recordings/${trials.A1}`);
  const mark = page.getByRole('slider', { name: 'cooling from' });
  await mark.focus();
  for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowRight');
  await page.getByText('Marks moved, not yet kept').waitFor();
  await page.getByRole('button', { name: 'keep this' }).click();
  await page.getByLabel('Why').fill('the nozzle still touched the sphere');
  await page.getByLabel('Who decides').fill('R. Hale');
  await page.getByRole('button', { name: 'keep', exact: true }).click();
  await page.getByText('By moved marks: the nozzle still touched the sphere').waitFor();
  const said = await done(courses, ['analyze', join('spring', trials.A1), '--experiment', 'spring']);
  expect(said.replace(/\s+/g, ' ')).toContain('R. Hale, ');
  expect(said.replace(/\s+/g, ' ')).toContain('the nozzle still touched the sphere');
  // By now the groups have handed in what they recorded in the rest of the session: every condition once.
  await cp(join(courses, 'rig', 'recordings'), join(spring, 'recordings'), {
    recursive: true,
    force: false,
    filter: (from) => !from.endsWith('_2.txt'),
  });
});

test('measured and predicted are held against each other, and reports are written', async () => {
  // One has to be repeated, which is the status 1.
  const { comparisons } = JSON.parse(await done(courses, ['compare', 'spring', '--json'], 1));
  expect(comparisons).toHaveLength(5);
  const { nusseltMultiplier } = JSON.parse(
    await done(courses, ['practice', '--answers', 'key.json', '--json']),
  );
  for (const { measured, predicted } of comparisons) {
    // tau goes with 1/h, and convection is most of h.
    const ratio = measured.value / predicted.value;
    expect(Math.abs(ratio * nusseltMultiplier - 1)).toBeLessThan(0.12);
  }
  await done(courses, ['report', 'spring', '--groups', '--pages', '--html', '--to', 'reports']);
  expect((await readdir(join(courses, 'reports'))).sort()).toEqual(names.map((name) => `group-${name}.html`));
  const report = await readFile(join(courses, 'reports', 'group-A1.html'), 'utf8');
  expect(report.includes('R. Hale') && report.includes('the nozzle still touched the sphere')).toBe(true);
});

test('what groups hand in is held against their own recordings, and feedback says which slip it was', async () => {
  const sheets = names.map((name) => join('rig', 'submissions', `${name}.csv`));
  for (const sheet of sheets) await withoutRows(join(courses, sheet), /_2\.txt/);
  await done(courses, ['mark', 'spring', '--take', ...sheets]);
  await page.goto(`${served?.address}/submissions`);
  await page.getByRole('row', { name: /^A3/ }).first().waitFor();
  await done(courses, ['mark', 'spring', '--out', 'feedback-texts']);
  const text = (name: string) => readFile(join(courses, 'feedback-texts', `${name}.md`), 'utf8');
  expect(await text('A1')).not.toMatch(/look again/i);
  expect(await text('A2')).toMatch(/look again/i);
  expect(await text('A3')).toMatch(/gauge/);
  expect(troubles).toEqual([]);
});

test('the term is archived, its texts removed, and everything comes to the same', async () => {
  await served?.close();
  served = null;
  const before = await done(courses, ['compare', 'spring', '--json'], 1);
  // At the end of a term, no logger is writing any more.
  const old = new Date(Date.now() - 3_600_000);
  for (const name of await readdir(join(spring, 'recordings'), { recursive: true })) {
    await utimes(join(spring, 'recordings', name), old, old);
  }
  await done(courses, ['archive', 'spring']);
  await done(courses, ['archive', 'spring', '--check']);
  await done(courses, ['archive', 'spring', '--remove', '--yes']);
  const left = await readdir(join(spring, 'recordings'), { recursive: true });
  // What has several channels stays, as the archive keeps no more than was read.
  const kept = left.filter((name) => name.endsWith('.txt'));
  expect(kept.length).toBeGreaterThan(0);
  expect(kept.every((name) => name.startsWith('A1'))).toBe(true);
  expect(await done(courses, ['compare', 'spring', '--json'], 1)).toBe(before);
  expect(await done(courses, ['verify', 'spring'])).toContain('spring: whole');
});

test('the plan of the next term has learned', async () => {
  const autumn = join(courses, 'autumn');
  await mkdir(autumn);
  await cp(join(spring, 'experiment.yaml'), join(autumn, 'experiment.yaml'));
  await edit(join(autumn, 'experiment.yaml'), [
    ['term: 2026-spring', 'term: 2026-autumn\nearlier-terms: [../spring]'],
  ]);
  const theory = await planned('autumn');
  const learned = await planned('autumn', '--rig');
  const { recordings } = JSON.parse(await done(courses, ['practice', '--answers', 'key.json', '--json']));
  for (const [name, expected] of learned) {
    const truths: number[] = recordings
      .filter(({ condition, faults }: { condition: Record<'body' | 'flow', string>; faults: unknown[] }) => {
        return faults.length === 0 && `${condition.body} at ${condition.flow}` === name;
      })
      .map((one: { truth: { timeConstant: number } }) => one.truth.timeConstant);
    const truth = truths.reduce((sum, one) => sum + one, 0) / truths.length;
    const [low, high] = expected.interval;
    expect(expected.source).toBe('rig');
    expect(truth, name).toBeGreaterThan(low);
    expect(truth, name).toBeLessThan(high);
    const [lowest = 0, highest = 0] = theory.get(name)?.interval ?? [];
    expect((high - low) / (highest - lowest), name).toBeLessThan(0.6);
  }
});

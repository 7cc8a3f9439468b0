/** What holds for every place: for eyes, for keyboards, for small windows and for a class. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { recordingAddress } from './main-paths.ts';
import type { Bench } from './support.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

declare global {
  interface Window {
    readonly axe: { run(context: unknown, options: unknown): Promise<AxeResults> };
  }
}

/** Every place, and what is to be seen once it is whole. */
export const places = [
  { name: 'experiment', path: '/', whole: '.figure-paper svg' },
  { name: 'plan', path: '/plan', whole: '.figure-paper svg' },
  { name: 'compare', path: '/compare', whole: '.figure-paper svg' },
  { name: 'class', path: '/class', whole: '.figure-paper svg' },
  { name: 'add recordings', path: '/add', whole: '.add-drop' },
  { name: 'recording', path: recordingAddress, whole: '[role=slider]' },
  { name: 'steps', path: `${recordingAddress}/steps`, whole: 'math' },
] as const;

export interface Place {
  readonly name: string;
  readonly path: string;
  readonly whole: string;
}

export async function openPlace({ visit }: Bench, { path, whole }: Place, view = ''): Promise<Page> {
  const page = await visit(`${path}${view}`);
  await page.locator(whole).first().waitFor();
  return page;
}

/**
 * What axe-core finds serious or critical, each with the elements.
 *
 * @param rules to go by; null for all
 * @param within a selector of the part that is looked at
 */
export async function serious(
  page: Page,
  rules: readonly string[] | null,
  within = 'html',
): Promise<string[]> {
  // The policy of the page forbids scripts that stand in it; what the debugger runs is outside of it.
  await page.evaluate(axe);
  const { violations } = await page.evaluate(
    // What stands in formulas is the mathematics of the browser itself, hundreds of elements of it.
    ({ only, part }) =>
      window.axe.run(
        { include: [[part]], exclude: [['math']] },
        only === null ? {} : { runOnly: { type: 'rule', values: only } },
      ),
    { only: rules, part: within },
  );
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' | ')}`);
}

/** Light in full, dark by its contrasts (all else is the same page), and as narrow as a phone: opened once. */
export async function accessible(bench: Bench, place: Place): Promise<void> {
  const page = await openPlace(bench, place);
  await page.emulateMedia({ colorScheme: 'light' });
  expect(await serious(page, null)).toEqual([]);
  await page.emulateMedia({ colorScheme: 'dark' });
  expect(await serious(page, ['color-contrast'])).toEqual([]);
  await fitsAPhone(page);
}

async function fitsAPhone(page: Page): Promise<void> {
  await page.setViewportSize({ width: 390, height: 844 });
  const over = await page.evaluate(() => {
    const width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= width) return [];
    return Array.from(document.querySelectorAll('main *'))
      .filter((one) => one.getBoundingClientRect().right > width + 1 && one.closest('.scroll') === null)
      .map((one) => `${one.tagName} ${one.className}`)
      .slice(0, 5);
  });
  expect(over).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
}

/** Everything that is written or said on a place. */
function saidOn(page: Page): Promise<string> {
  return page.evaluate(() =>
    [
      document.title,
      document.body.textContent,
      ...Array.from(document.querySelectorAll('[aria-label], [aria-valuetext], [title]')).map(
        (one) =>
          `${one.getAttribute('aria-label')} ${one.getAttribute('aria-valuetext')} ${one.getAttribute('title')}`,
      ),
    ].join('\n'),
  );
}

export async function hidesGroups(bench: Bench, place: Place): Promise<void> {
  const page = await openPlace(bench, place, '?view=projector');
  expect(await saidOn(page)).not.toMatch(/\b[ABC][1-4]\b|bench-\d|R\. Hale/);
  const size = () =>
    page.evaluate(() => Number.parseFloat(getComputedStyle(document.documentElement).fontSize));
  const large = await size();
  await page.getByRole('button', { name: 'leave projector view' }).click();
  expect(large).toBeGreaterThan(1.3 * (await size()));
}

/** Where the focus is: its words, and whether it can be seen. */
export async function focus(page: Page) {
  return page.evaluate(() => {
    const one = document.activeElement;
    if (one === null) return { words: '', seen: false, inGrid: false };
    const { outlineStyle, outlineWidth } = getComputedStyle(one);
    const { top, bottom } = one.getBoundingClientRect();
    return {
      words: (one.getAttribute('aria-label') ?? one.textContent ?? '').trim(),
      seen: outlineStyle !== 'none' && outlineWidth !== '0px' && bottom > 0 && top < window.innerHeight,
      inGrid: one.closest('.grid td') !== null,
    };
  });
}

/** Most steps of Tab from the top of the page to the grid. */
const mostSteps = 60;

export async function byKeyboardAlone(bench: Bench): Promise<void> {
  const [experiment] = places;
  const page = await openPlace(bench, experiment);
  const passed: string[] = [];
  for (let i = 0; i < mostSteps; i++) {
    await page.keyboard.press('Tab');
    const { words, seen, inGrid } = await focus(page);
    expect(seen, `the focus on “${words}” can be seen`).toBe(true);
    passed.push(words);
    if (inGrid) break;
  }
  expect(passed.slice(0, 11)).toEqual([
    'to the content',
    'experiment',
    'plan',
    'compare',
    'class',
    'add recordings',
    'floor',
    'rig',
    'submissions',
    'dark',
    'projector',
  ]);
  const first = passed.at(-1) ?? '';
  await page.keyboard.press('ArrowDown');
  const below = await focus(page);
  expect(below).toMatchObject({ seen: true, inGrid: true });
  expect(below.words).not.toBe(first);
  // Below lies the recording that cannot be read; beside it, one that can.
  await page.keyboard.press('ArrowLeft');
  expect(await focus(page)).toMatchObject({ seen: true, inGrid: true });
  await page.keyboard.press('Enter');
  await page.getByRole('slider').first().waitFor();

  await page.reload();
  await page.getByRole('slider').first().waitFor();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  expect(new URL(page.url()).hash).toBe('#place');
  await page.keyboard.press('Tab');
  // Past the top line: the focus is in the place now.
  expect(await page.evaluate(() => document.activeElement?.closest('main') !== null)).toBe(true);
}

/** States in words, and curves that differ in more than their colour. */
export async function withoutColour(bench: Bench): Promise<void> {
  const [experiment] = places;
  const page = await openPlace(bench, experiment);
  const verdicts = await page.locator('.grid .entry').allInnerTexts();
  expect(verdicts.length).toBeGreaterThan(10);
  for (const verdict of verdicts) expect(verdict).toMatch(/usable|repeat|unreadable|battery|read/i);
  for (const place of places.filter(({ whole }) => whole !== '.add-drop' && whole !== 'math')) {
    const other = await openPlace(bench, place);
    expect(await coloursAlone(other), place.name).toEqual([]);
  }
}

/** Pairs of drawn lines that only a colour tells apart. */
function coloursAlone(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const alone: string[] = [];
    const probe = document.body.appendChild(document.createElement('span'));
    // By their meaning in the styles: lines of axes and leaders, and lines that only guide the eye.
    const guides = ['--tie', '--faint', '--muted'].map((name) => {
      probe.style.color = `var(${name})`;
      return getComputedStyle(probe).color;
    });
    probe.remove();
    for (const svg of Array.from(document.querySelectorAll('.figure-paper svg'))) {
      const looks = new Map<string, string>();
      for (const line of Array.from(svg.querySelectorAll('path, line, polyline'))) {
        const { stroke, strokeDasharray, strokeWidth, strokeOpacity, fill } = getComputedStyle(line);
        if (stroke === 'none' || fill !== 'none' || guides.includes(stroke)) continue;
        const box = line.getBoundingClientRect();
        // Ticks, grid and what only leads to a word are no curves.
        if (box.width < 60 || line.tagName === 'line') continue;
        const look = `${strokeDasharray} ${strokeWidth} ${strokeOpacity}`;
        const before = looks.get(look);
        if (before !== undefined && before !== stroke) alone.push(`${look}: ${before} and ${stroke}`);
        looks.set(look, stroke);
      }
    }
    return alone;
  });
}

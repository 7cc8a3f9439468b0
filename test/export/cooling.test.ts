import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type AnalyzedFile,
  experimentDecaySettings,
  type FolderAnalysis,
  openAnalysis,
} from '../../src/analysis/index.ts';
import type { DecaySettings } from '../../src/decay/index.ts';
import { coolingTable, writeCooling } from '../../src/export/index.ts';
import { cellsOf, type HeldCell, Worksheet } from './spreadsheet.ts';
import { unzipped } from './zip.ts';

const path = 'recordings/A/A1/brass-12_120-1.txt';
const origin = { course: '=1+1', version: '0.1.0', experimentHash: 'ab'.repeat(32) };

let analysis: FolderAnalysis;
let analyzed: AnalyzedFile;
let settings: DecaySettings;
let cells: Map<string, HeldCell>;
let about: Map<string, HeldCell>;

beforeAll(async () => {
  analysis = await openAnalysis(join('demo', 'thornwick'), { hands: 0 });
  analyzed = await analysis.analysis(path);
  if (analysis.experiment === null) throw new Error('the demo has an experiment file');
  settings = experimentDecaySettings(analysis.experiment, 'brass-12');
  const { bytes } = await writeCooling({ path, analyzed, settings, origin }, 'xlsx');
  const entries = unzipped(bytes);
  const entry = (name: string) => entries.get(name) ?? '';
  const strings = entry('xl/sharedStrings.xml');
  cells = cellsOf(entry('xl/worksheets/sheet1.xml'), strings);
  about = cellsOf(entry('xl/worksheets/sheet2.xml'), strings);
}, 60_000);
afterAll(() => analysis.close());

/** The value beside a name of the working, the first from a row on. */
function beside(sheet: Worksheet, name: string, from: number): number {
  for (let row = from; row < from + 40; row++) {
    if (sheet.value(`G${row}`) === name) return Number(sheet.value(`H${row}`));
  }
  throw new Error(`no line ${name} from row ${from} on`);
}

describe('the sheet of a cooling', () => {
  test('works out to what the program finds on the same rows', () => {
    const sheet = new Worksheet(cells);
    const { origin: through, intercept, rows } = coolingTable(analyzed, settings);
    expect(rows.length).toBeGreaterThan(100);
    const [first, second] = [7, 19];
    expect(sheet.value(`G${first}`)).toBe('Through the origin: ln Γ = b t');
    expect(sheet.value(`G${second}`)).toBe('With an intercept: ln Γ = a + b t');
    const held: [number, number | undefined][] = [
      [beside(sheet, 'τ / s', first), through?.value],
      [beside(sheet, 'printed standard error / s', first), through?.standardError],
      [beside(sheet, 'τ / s', second), intercept?.value],
      [beside(sheet, 'printed standard error / s', second), intercept?.standardError],
    ];
    // The sums of squares lose digits where they are subtracted from each other.
    for (const [found, own] of held) expect(found / (own ?? 0)).toBeCloseTo(1, 8);
    const [n, error] = [beside(sheet, 'n', first), beside(sheet, 'printed standard error / s', first)];
    // Student's t from both sides at 5 %: 1.96 for very many, and more for fewer (JCGM 100:2008, table G.2).
    const factor = beside(sheet, 'printed 95 % / s', first) / error;
    expect(factor).toBeGreaterThan(1.9599);
    expect(factor).toBeLessThan(1.96 + 3 / n);
  });

  test('follows when a temperature that is given is changed', () => {
    const ambient = cells.get('H3');
    if (ambient?.kind !== 'value' || typeof ambient.value !== 'number') throw new Error('no ambient in H3');
    const changed = new Map(cells).set('H3', { kind: 'value', value: ambient.value + 1 });
    const [before, after] = [cells, changed].map((one) => beside(new Worksheet(one), 'τ / s', 7));
    // A higher ambient takes more from the small temperatures: the fall looks steeper.
    expect(after).toBeLessThan((before ?? 0) - 0.1);
  });

  test('names its recording, its course and how many readings a row stands for, and works out none of it', () => {
    const texts = [...about.values()].map((cell) => (cell.kind === 'value' ? String(cell.value) : '='));
    expect(texts).toContain(path);
    expect(texts).toContain('=1+1');
    expect(texts.join(' ')).toMatch(/thinned \d+ to 1|single reading/);
    expect([...about.values()].every(({ kind }) => kind === 'value')).toBe(true);
  });
});

import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { pagesOf } from '../report/pages.ts';
import { runCommand } from './run.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-class-'));
const folder = join(root, 'thornwick');
const names = join(folder, 'names.csv');
const bare = (group: string) => `recordings/${group.charAt(0)}/${group}/bare-junction_120-1.txt`;
let first: Awaited<ReturnType<typeof runCommand>>;
const groups = ['A1', 'A2', 'A3', 'A4', 'B1', 'B2', 'B3', 'B4'];

/** Bare junctions of eight groups, of which one handed in what another had. */
beforeAll(async () => {
  for (const group of groups) {
    const to = join(folder, bare(group));
    mkdirSync(dirname(to), { recursive: true });
    cpSync(join('demo/thornwick', bare(group === 'A2' ? 'A1' : group)), to);
  }
  cpSync('demo/thornwick/experiment.yaml', join(folder, 'experiment.yaml'));
  writeFileSync(names, 'code,name\nA1,Ada Quill\nA2,Ben Marrow\nB1,Cleo Tarn\n');
  // Analyzed once, it is kept.
  first = await runCommand(['class', folder]);
}, 300_000);
afterAll(() => rmSync(root, { recursive: true }));

const at = (name: string) => join(root, name);
const anybody = /Ada|Quill|Marrow|Cleo/;

describe('emberline class', () => {
  test('says first who should look again and why, then the spread, in 80 columns', () => {
    const { status, stdout } = first;
    expect(status).toBe(1);
    for (const line of stdout
      .split('\n')
      .filter((one) => !one.includes('recordings/') && !one.includes(root))) {
      expect(line.length, line).toBeLessThanOrEqual(80);
    }
    const order = ['to look again', 'A1, A2', 'groups trials', 'bare-junction at 120', 'left out', 'checked'];
    const places = order.map((words) => stdout.indexOf(words));
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(places[0]).toBeGreaterThan(0);
    expect(stdout).toContain('fewer than 5 groups');
    expect(stdout).not.toMatch(/wrong|mistake|error/i);
  });

  test('comes of what is kept, the same each time, and as JSON', async () => {
    const json = await runCommand(['class', folder, '--json']);
    expect(await runCommand(['class', folder, '--json'])).toEqual(json);
    const rolled: unknown = JSON.parse(json.stdout);
    expect(rolled).toMatchObject({
      recordings: 8,
      counting: 7,
      names: null,
      conditions: [{ body: 'bare-junction', flow: '120', spread: 'this-class' }],
    });
  });

  test('says of no option that its usual value is an empty list', async () => {
    expect((await runCommand(['class', '--help'])).stdout).not.toContain('[]');
    expect((await runCommand(['report', '--help'])).stdout).not.toContain('[]');
  });

  test('takes one section, and an earlier term', async () => {
    const before = at('2025-autumn');
    for (const name of ['experiment.yaml', 'results']) {
      cpSync(join(folder, name), join(before, name), { recursive: true });
    }
    const words = ['class', folder, '--section', 'B', '--earlier', before, '--json'];
    const rolled: unknown = JSON.parse((await runCommand(words)).stdout);
    expect(rolled).toMatchObject({
      recordings: 4,
      sections: ['B'],
      earlier: { terms: ['2025-autumn'], recordings: 8 },
      conditions: [{ spread: 'earlier-terms' }],
    });
    const refused = await runCommand(['class', folder, '--section', 'Q']);
    expect(refused.status).toBe(2);
    expect(refused.stderr).toContain('Take one of A, B, C');
  });

  test('explains itself', async () => {
    const { status, stdout } = await runCommand(['class', '--help']);
    expect(status).toBe(0);
    expect(stdout).toContain('earlier-terms');
  });
});

describe('the document of a class', () => {
  test('is set on paper, the same bytes again, with who should look again and how the rigs stood', async () => {
    const [one, two] = [at('first.pdf'), at('second.pdf')];
    expect(await runCommand(['report', folder, '--class', '--to', one])).toMatchObject({ status: 0 });
    await runCommand(['report', folder, '--class', '--to', two]);
    const pdf = readFileSync(one);
    expect(pdf.equals(readFileSync(two))).toBe(true);
    const text = (await pagesOf(pdf)).join(' ').replace(/\s+/g, ' ');
    for (const words of [
      'The class',
      'Look again',
      'A1, A2',
      'Spread within and between groups',
      'The rigs',
    ]) {
      expect(text).toContain(words);
    }
  });

  test('is one file as HTML, of one section', async () => {
    const path = at('section.html');
    const words = ['report', folder, '--class', '--section', 'B', '--html', '--to', path];
    expect(await runCommand(words)).toMatchObject({ status: 0 });
    const html = readFileSync(path, 'utf8');
    expect(html).toContain('Section B');
    expect(html).not.toContain('recordings/A');
    expect(await runCommand(['report', folder, '--bench-sheet', '--section', 'B'])).toMatchObject({
      status: 2,
    });
  });
});

describe('names', () => {
  test('stand nowhere unless somebody asks for them', async () => {
    const asked: [string, readonly string[]][] = [
      ['class.html', ['report', folder, '--class', '--html']],
      ['group.html', ['report', folder, '--group', 'A1', '--html']],
      ['trial.html', ['report', folder, '--trial', bare('A1'), '--html']],
      ['sheet.html', ['report', folder, '--bench-sheet', '--html']],
      ['results.json', ['export', folder]],
    ];
    for (const [name, words] of asked) {
      expect(await runCommand([...words, '--to', at(name)]), name).toMatchObject({ status: 0 });
      expect(readFileSync(at(name), 'utf8'), name).not.toMatch(anybody);
    }
    const { stdout } = await runCommand(['class', folder]);
    expect(stdout).not.toMatch(anybody);
    expect((await runCommand(['class', folder, '--json'])).stdout).not.toMatch(anybody);
  }, 180_000);

  test('stand beside codes where they are asked for, with a warning', async () => {
    const { stdout } = await runCommand(['class', folder, '--names', names]);
    expect(stdout).toContain('A1 (Ada Quill)');
    expect(stdout).toContain('show this to nobody else');
    const path = at('named.html');
    await runCommand(['report', folder, '--class', '--names', names, '--html', '--to', path]);
    const html = readFileSync(path, 'utf8');
    expect(html).toContain('Ada Quill');
    expect(html).toContain('Names stand beside codes');
    expect(await runCommand(['class', folder, '--names', at('none.csv')])).toMatchObject({ status: 2 });
    expect(await runCommand(['report', folder, '--bench-sheet', '--names', names])).toMatchObject({
      status: 2,
    });
  });
});

import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import readXlsxFile from 'read-excel-file/node';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { svgToPng } from '../../src/figure/index.ts';
import { pagesOf, sizesOf } from '../report/pages.ts';
import { runCommand } from './run.ts';

const recording = 'recordings/A/A1/brass-12_120-1.txt';
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-documents-'));
  mkdirSync(join(folder, 'recordings/A/A1'), { recursive: true });
  for (const path of ['experiment.yaml', recording]) {
    cpSync(join('demo/thornwick', path), join(folder, path));
  }
});
afterAll(() => rmSync(folder, { recursive: true }));

const at = (name: string) => join(folder, name);

describe('emberline report', () => {
  test.each([
    ['--trial', recording, 'Time constant'],
    ['--worked', recording, 'The exponential fit'],
    ['--group', 'A1', 'Group A1'],
    ['--bench-sheet', null, 'Group code'],
    ['--briefing', null, 'Before you start'],
  ])('writes %s as PDF, the same bytes again', async (option, value, words) => {
    const wanted = value === null ? [option] : [option, value];
    const [first, second] = [at(`first${option}.pdf`), at(`second${option}.pdf`)];
    const done = await runCommand(['report', folder, ...wanted, '--to', first]);
    expect(done).toMatchObject({ status: 0 });
    await runCommand(['report', folder, ...wanted, '--to', second]);
    const pdf = readFileSync(first);
    expect((await pagesOf(pdf)).join(' ')).toContain(words);
    expect(pdf.equals(readFileSync(second))).toBe(true);
  });

  test('takes paper and figures from the experiment file, unless an option says otherwise', async () => {
    const course = at('own-setting');
    mkdirSync(course);
    cpSync(at('recordings'), join(course, 'recordings'), { recursive: true });
    const text = readFileSync(at('experiment.yaml'), 'utf8');
    writeFileSync(
      join(course, 'experiment.yaml'),
      `${text}\nreport: { uncertainty-figures: 1, paper: US Letter }\n`,
    );
    const written = async (name: string, options: string[]) => {
      const words = ['report', course, '--trial', recording, '--to', at(name), ...options];
      expect(await runCommand(words)).toMatchObject({ status: 0 });
      const pdf = readFileSync(at(name));
      const [page] = await sizesOf(pdf);
      const result = /Time constant \(([\d.]+) ± ([\d.]+)\)/.exec((await pagesOf(pdf)).join(' '));
      return { page, decimals: (result?.[2] ?? '').replace(/^[\d]*\./, '').length };
    };
    // ANSI/ASME Y14.1: 8.5 in by 11 in; ISO 216: 210 mm by 297 mm; a point is 1/72 in.
    const own = await written('own.pdf', []);
    expect(own.page).toEqual([612, 792]);
    const asked = await written('asked.pdf', ['--paper', 'a4', '--figures', '2']);
    expect(asked.page?.map((points) => Math.round((points / 72) * 25.4))).toEqual([210, 297]);
    expect(asked.decimals).toBe(own.decimals + 1);
  });

  test('writes every group into a folder, once', async () => {
    const words = ['report', folder, '--groups', '--to', at('groups')];
    const done = await runCommand(words);
    expect(done).toMatchObject({ status: 0 });
    expect(done.stdout).toContain('1 group:');
    expect(readdirSync(at('groups'))).toEqual(['group-A1.pdf']);
    expect((await pagesOf(readFileSync(at('groups/group-A1.pdf')))).join(' ')).toContain('Group A1');
    const again = await runCommand(words);
    expect(again.status).toBe(2);
    expect(again.stderr).toContain('is there already');
  });

  test('shows a bar while it analyzes and writes, on a terminal', async () => {
    rmSync(join(folder, 'results'), { recursive: true, force: true });
    const { stderr, stdout } = await runCommand(
      ['report', folder, '--groups', '--to', at('again')],
      {},
      true,
    );
    expect(stderr).toContain('analyzing recordings');
    expect(stderr).toContain('writing reports');
    expect(stdout).not.toContain('analyzing');
  });

  test('shows the best recording of the folder in a briefing, else a simulated one, and says which', async () => {
    const page = async (course: string, name: string) => {
      const words = ['report', course, '--briefing', '--html', '--to', at(name)];
      const { status, stderr } = await runCommand(words);
      expect(status).toBe(0);
      return { stderr, html: readFileSync(at(name), 'utf8') };
    };
    const recorded = await page(folder, 'recorded.html');
    expect(recorded.stderr).toContain(`good recording: ${recording}`);
    expect(recorded.html).toContain(`Recorded: ${recording}.`);
    const empty = at('no-recordings');
    mkdirSync(empty);
    cpSync(at('experiment.yaml'), join(empty, 'experiment.yaml'));
    const simulated = await page(empty, 'simulated.html');
    expect(simulated.stderr).toContain('good recording: practice recording');
    expect(simulated.html).not.toContain('Recorded:');
  });

  test('keeps the own words and pictures of a briefing when it is made again from a changed experiment', async () => {
    const course = at('own-words');
    mkdirSync(join(course, 'briefing'), { recursive: true });
    const text = readFileSync(at('experiment.yaml'), 'utf8');
    const picture = await svgToPng(
      `<svg xmlns="http://www.w3.org/2000/svg" width="4" height="4"><path d="M0 0h4v4z"/></svg>`,
      16,
      [],
    );
    const own: [string, string | Uint8Array][] = [
      ['watch.md', 'Bench 3 has the *blue* valve.\n\n![The blue valve](valve.png)\n'],
      ['valve.png', picture],
    ];
    for (const [name, content] of own) writeFileSync(join(course, 'briefing', name), content);
    const made = async (experiment: string) => {
      writeFileSync(join(course, 'experiment.yaml'), experiment);
      const words = ['report', course, '--briefing', '--html', '--force', '--to', at('own-words.html')];
      const { status, stderr } = await runCommand(words);
      expect({ status, stderr }).toEqual({
        status: 0,
        stderr: expect.stringMatching(/^emberline: Shown as a good recording: .+\n$/),
      });
      return readFileSync(at('own-words.html'), 'utf8');
    };
    const pages = [await made(text), await made(text.replace('repeats: 3', 'repeats: 2'))];
    expect(pages[0]).not.toBe(pages[1]);
    for (const html of pages) {
      expect(html).toContain('Bench 3 has the <em>blue</em> valve.');
      expect(html).toContain(Buffer.from(picture).toString('base64'));
      expect(html).toContain('alt="The blue valve"');
    }
    expect(readdirSync(join(course, 'briefing')).sort()).toEqual(['valve.png', 'watch.md']);
    for (const [name, content] of own) {
      expect(readFileSync(join(course, 'briefing', name)).equals(Buffer.from(content))).toBe(true);
    }
  });

  test('writes PDF where it is asked for by name, but not beside HTML', async () => {
    const words = (name: string) => ['report', folder, '--bench-sheet', '--to', at(name)];
    expect(await runCommand([...words('named.pdf'), '--pdf'])).toMatchObject({ status: 0 });
    expect(await runCommand(words('unnamed.pdf'))).toMatchObject({ status: 0 });
    expect(readFileSync(at('named.pdf')).equals(readFileSync(at('unnamed.pdf')))).toBe(true);
    const both = await runCommand([...words('both.pdf'), '--pdf', '--html']);
    expect(both.status).toBe(2);
    expect(both.stderr).toContain("'--pdf' cannot be used with option '--html'");
  });

  test('leaves a file alone that is there, unless it is told otherwise', async () => {
    const path = at('sheet.html');
    const words = ['report', folder, '--bench-sheet', '--html', '--to', path];
    expect(await runCommand(words)).toMatchObject({ status: 0 });
    const refused = await runCommand(words);
    expect(refused.status).toBe(2);
    expect(refused.stderr).toContain('is there already');
    expect(await runCommand([...words, '--force'])).toMatchObject({ status: 0 });
  });

  test('asks for exactly one document', async () => {
    expect(await runCommand(['report', folder])).toMatchObject({ status: 2 });
    expect(await runCommand(['report', folder, '--bench-sheet', '--briefing'])).toMatchObject({ status: 2 });
    expect(await runCommand(['report', folder, '--trial', 'recordings/none.txt'])).toMatchObject({
      status: 2,
    });
  });
});

describe('emberline export', () => {
  test('writes one row a trial in every format, described by a data package', async () => {
    const done = await runCommand(['export', folder, '--to', at('out')]);
    expect(done).toMatchObject({ status: 0 });
    expect(readdirSync(at('out')).sort()).toEqual([
      'datapackage.json',
      'results.csv',
      'results.json',
      'results.parquet',
      'results.xlsx',
    ]);
    expect(readFileSync(at('out/results.csv'), 'utf8').trim().split('\r\n')).toHaveLength(2);
    const [sheet] = await readXlsxFile(at('out/results.xlsx'));
    expect(JSON.stringify(sheet)).toContain(recording);
  });

  test('writes a cooling with its regression, and refuses what is no format', async () => {
    expect(
      await runCommand(['export', folder, '--cooling', recording, '--to', at('cooling.xlsx')]),
    ).toMatchObject({ status: 0 });
    expect(existsSync(at('cooling.xlsx'))).toBe(true);
    expect(await runCommand(['export', folder, '--to', at('results.pdf')])).toMatchObject({ status: 2 });
  });
});

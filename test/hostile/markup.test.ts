import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseHTML } from 'linkedom';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeExport } from '../../src/export/index.ts';
import { type DocumentOrder, makeDocument } from '../../src/report/index.ts';
import { groupSubmission } from '../../src/server/contract/index.ts';
import { folderRecordings, type OpenRecordings } from '../../src/server/folder-recordings.ts';
import { runCommand } from '../cli/run.ts';
import { expectSound } from '../figure/svg.ts';
import { pagesOf } from '../report/pages.ts';
import { testServer } from '../server/app.ts';
import { hostileName, injected, spoil, spoilFurther, spoilt } from './spoilt-course.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-markup-'));
let recordings: OpenRecordings;
let server: Awaited<ReturnType<typeof testServer>>;

beforeAll(async () => {
  const recording = 'recordings/A/A1/brass-12_120-1.txt';
  mkdirSync(join(folder, 'recordings/A/A1'), { recursive: true });
  for (const path of ['experiment.yaml', recording]) {
    cpSync(join('demo/thornwick', path), join(folder, path));
  }
  spoil(folder);
  recordings = await folderRecordings(folder, () => undefined);
  server = await testServer({ folder, recordings, submissions: recordings.submissions });
  await spoilFurther(async (path, body) => server.json('POST', path, body));
}, 120_000);
afterAll(async () => {
  await recordings?.close();
  await server?.remove();
  rmSync(folder, { recursive: true, force: true });
});

const plain = { paper: null, figures: null } as const;
/** Every document that people's texts get into, and the marks of those that must be found in it as they are. */
const documents: readonly (readonly [name: string, order: DocumentOrder, marks: readonly string[]])[] = [
  ['trial', { kind: 'trial', path: spoilt, format: 'html', ...plain }, ['course', 'why', 'channel']],
  ['worked', { kind: 'worked', path: spoilt, format: 'html', ...plain }, ['course']],
  ['group', { kind: 'group', group: 'A1', pages: true, format: 'html', ...plain }, ['course', 'why']],
  ['class', { kind: 'class', section: null, earlier: [], names: null, format: 'html', ...plain }, ['course']],
  ['bench-sheet', { kind: 'bench-sheet', format: 'html', ...plain }, ['course']],
  ['briefing', { kind: 'briefing', example: null, format: 'html', ...plain }, ['course', 'own']],
  ['slides', { kind: 'briefing', example: null, format: 'slides', ...plain }, ['course', 'own']],
];

/** A hostile text where its mark is, with the blanks that lines are broken at taken for one. */
const shows = (text: string, mark: string) =>
  text.replace(/\s+/g, ' ').includes(`${mark}</p></text></script><script>hit()</script>`);

describe.each(documents)('the document %s', (name, order, marks) => {
  test('in HTML shows markup as the text that it is', async () => {
    const { bytes } = await makeDocument(folder, order);
    const { document } = parseHTML(Buffer.from(bytes).toString('utf8'));
    const own = name === 'slides' ? 1 : 0;
    expect(document.querySelectorAll('script')).toHaveLength(own);
    const foreign = Array.from(document.querySelectorAll(injected)).filter(
      ({ localName }) => localName !== 'script',
    );
    expect(foreign.map((one) => one.outerHTML.slice(0, 200))).toEqual([]);
    for (const one of Array.from(document.querySelectorAll('*'))) {
      for (const { name: attribute } of Array.from(one.attributes)) expect(attribute).not.toMatch(/^on/i);
    }
    const text = document.body.textContent ?? '';
    expect(marks.filter((mark) => !shows(text, mark))).toEqual([]);
    expect(document.title).not.toBe('');
  });
});

describe.each(documents.filter(([name]) => name !== 'slides'))(
  'on paper, the document %s',
  (_, order, marks) => {
    test('shows markup as text as well, and links to nothing', async () => {
      const { bytes } = await makeDocument(folder, { ...order, format: 'pdf' });
      const text = (await pagesOf(bytes)).join(' ').replace(/\s+/g, '');
      for (const mark of marks) expect(text).toContain(`${mark}</p></text></script><script>hit()`);
      const pdf = await getDocument({ data: Uint8Array.from(bytes), verbosity: 0 }).promise;
      expect(await pdf.getJSActions()).toBeNull();
      expect(await pdf.getAttachments()).toBeNull();
      for (let number = 1; number <= pdf.numPages; number++) {
        const annotations: unknown = await (await pdf.getPage(number)).getAnnotations();
        expect(JSON.stringify(annotations)).not.toMatch(/evil\.example|javascript/);
      }
      expect(Buffer.from(bytes).toString('latin1')).not.toMatch(/\/JavaScript|\/Launch|\/OpenAction\s*<</);
    });
  },
);

test('a figure of a recording whose header is markup is a sound picture', async () => {
  const { bytes } = await makeExport(folder, { kind: 'figure', path: spoilt, format: 'svg' });
  expectSound(Buffer.from(bytes).toString('utf8'));
});

test('the text of a feedback says what the instructor wrote, and nothing that a group slipped in', async () => {
  const answer = await server.app.request('/api/submissions/A1');
  const { feedback } = groupSubmission.parse(await answer.json());
  const written = readFileSync(join(folder, 'feedback/feedback.md'), 'utf8').split('\n')[0] ?? '';
  const rest = (feedback ?? '').replace(written, '');
  expect(feedback).toContain(written);
  expect(rest).not.toMatch(/<script|<img|javascript:/);
});

describe('formulas in what is handed in', () => {
  /** Common practice: OWASP, CSV Injection. */
  const formulas = [
    '=1+1',
    '+1+1',
    '-1+1',
    '@SUM(1)',
    '\t=1+1',
    '\r=1+1',
    '\uff1d1+1',
    '\uff0b1',
    '\uff0d1',
    '\uff20x',
    '"=1',
    '|x',
  ];

  test.each(formulas)('%j as a note is kept as text', async (note) => {
    const rows = [{ recording: spoilt, note, values: { point: '4' } }];
    const answer = await server.json('POST', '/api/submissions/A1', { rows });
    expect(answer.status).toBe(200);
    const [latest = ''] = readdirSync(join(folder, 'submissions/A1')).toSorted().reverse();
    const sheet = readFileSync(join(folder, 'submissions/A1', latest), 'utf8');
    const cells = sheet.split(/\r?\n|,/).map((cell) => cell.replace(/^"/, '').replaceAll('""', '"'));
    expect(cells.filter((cell) => /^[\s"]*[=+@|\uff1d\uff0b\uff0d\uff20]|^[\s"]*-\D/.test(cell))).toEqual([]);
    // What is read back is what was written, but for blanks around it.
    const seen = groupSubmission.parse(await answer.json());
    expect(seen.rows[0]?.note.replace(/^'/, '').trim()).toBe(note.trim());
  });
});

/** Weights and colours that the command itself sets (ECMA-48, SGR), and what its bars move. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is left out
const ownMarks = /\u001b(?:[78]|\[(?:[\d;]*m|\d*[GKADJ]|\?25[lh]|\?7[lh]))/g;

describe('the command line', () => {
  const steering = '\u001b]0;hit\u0007\u009b31m\u202e\u2066';

  beforeAll(() => {
    const put = (path: string) => {
      mkdirSync(join(folder, path, '..'), { recursive: true });
      writeFileSync(join(folder, path), `${steering}\n${steering};${steering}\n`);
    };
    put(`recordings/A/A1/${steering}.txt`);
    put(`submissions/A1/${steering}.csv`);
    put(`feedback/${steering}.md`);
    put(`briefing/${steering}.md`);
  });

  test.each([
    ['check'],
    ['analyze', `recordings/A/A1/${steering}.txt`],
    ['analyze', `recordings/A/A1/${hostileName}`],
    ['compare'],
    ['class'],
    ['mark'],
    ['mark', '--group', steering],
    ['rig'],
    ['verify'],
    ['report', '--trial', steering],
    [steering],
    ['--', steering],
  ])('%j writes nothing that steers a terminal', async (command, ...more) => {
    const of = command === 'analyze' ? more.map((path) => join(folder, path)) : [folder, ...more];
    const { stdout, stderr } = await runCommand([command, ...of], {}, true);
    const said = `${stdout}${stderr}`;
    expect(said).not.toBe('');
    const bare = said.replace(ownMarks, '').replaceAll('\r', '');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
    expect(bare.match(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g)).toBeNull();
  });
});

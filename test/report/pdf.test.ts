import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { openAnalysis } from '../../src/analysis/index.ts';
import {
  conditionsOf,
  type Experiment,
  experimentSchema,
  parseChecked,
  planSession,
  predictCondition,
} from '../../src/experiment/index.ts';
import {
  benchSheet,
  briefing,
  documentSettings,
  groupReport,
  practiceExamples,
  type Report,
  trialReport,
  typesetPdf,
  workedReport,
} from '../../src/report/index.ts';
import { drawnOn, fontsOf, pagesOf, sizesOf, sourceOfPdf } from './pages.ts';

const origin = { course: 'Thornwick', version: '0.1.0', experimentHash: 'ab'.repeat(32) };
const documents = ['trial', 'worked', 'group', 'sheet', 'briefing'] as const;
type DocumentName = (typeof documents)[number];

function experimentOf(change: (text: string) => string = (text) => text): Experiment {
  const text = readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8');
  const checked = parseChecked(change(text), experimentSchema);
  if (!checked.ok) throw new Error(checked.faults.map(({ message }) => message).join('\n'));
  return checked.value;
}

function planOf(experiment: Experiment) {
  const predictions = conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0));
  return { predictions, plan: planSession(experiment, predictions) };
}

let made: Readonly<Record<DocumentName, Report>>;

beforeAll(async () => {
  const analysis = await openAnalysis(join('demo', 'thornwick'), { hands: 0 });
  const { experiment } = analysis;
  if (experiment === null) throw new Error('the demo has an experiment file');
  const { quoting } = documentSettings(experiment);
  const path = 'recordings/A/A1/brass-12_120-1.txt';
  const detail = await analysis.detail(path);
  const recordings = analysis.list().recordings.filter(({ place }) => place.group === 'A1');
  const { plan, predictions } = planOf(experiment);
  const examples = practiceExamples(experiment, plan);
  made = {
    trial: trialReport({ detail, origin, quoting }),
    worked: workedReport(detail, await analysis.writtenSteps(path), origin),
    group: groupReport({
      group: 'A1',
      recordings,
      comparison: analysis.comparison(['A1']),
      accuracy: 0.3,
      details: [detail],
      origin,
      quoting,
    }),
    sheet: benchSheet({ experiment, plan, origin }),
    briefing: briefing({ experiment, plan, predictions, examples, own: new Map(), origin }),
  };
  await analysis.close();
}, 120_000);

describe.each(documents)('the %s on paper', (name) => {
  test('has every figure, drawn in lines, with words for those who do not see it', async () => {
    const report = made[name];
    const figures = report.blocks.flatMap((block) => (block.kind === 'figure' ? [block.figure] : []));
    const pages = await drawnOn(await typesetPdf(report, 'a4'));
    const alternatives = pages.flatMap(({ alternatives: all }) => all);
    expect(alternatives).toHaveLength(figures.length);
    for (const { alt } of figures) {
      expect(alt.length).toBeGreaterThan(20);
      expect(alternatives).toContain(alt);
    }
    // A frame, an axis and a curve are three at the least; tables and headings have none but their rules.
    for (const page of pages) expect(page.paths).toBeGreaterThanOrEqual(3 * page.alternatives.length);
    const lines = pages.reduce((sum, { paths }) => sum + paths, 0);
    expect(lines).toBeGreaterThan(10 * figures.length);
  });

  // ISO 14289-1:2014, 5 (identification), 7.1 (tagged, title shown), 7.2 (language), 7.21.4 (fonts in the file).
  test('is tagged, titled, in a language, says that it is PDF/UA-1, and holds its fonts', async () => {
    const pdf = await typesetPdf(made[name], 'a4');
    const { marked, title, language, part, titleShown } = await sourceOfPdf(pdf);
    expect({ marked, title, part, titleShown }).toEqual({
      marked: true,
      title: made[name].title,
      part: '1',
      titleShown: true,
    });
    expect(language?.toLowerCase()).toMatch(/^en/);
    const fonts = await fontsOf(pdf);
    expect(fonts.length).toBeGreaterThan(1);
    for (const { embedded, name: font } of fonts) expect(embedded ? null : font).toBeNull();
  });

  test('is of the paper that is asked for, every page', async () => {
    // ISO 216 and ANSI/ASME Y14.1, in points of 1/72 in.
    const wanted = { a4: [595, 842], 'us-letter': [612, 792] } as const;
    for (const paper of ['a4', 'us-letter'] as const) {
      for (const size of await sizesOf(await typesetPdf(made[name], paper))) {
        expect(size.map(Math.round)).toEqual(wanted[paper]);
      }
    }
  });
});

describe('a bench sheet', () => {
  test.each([
    [1, 'a4'],
    [3, 'us-letter'],
    [5, 'a4'],
    [5, 'us-letter'],
  ] as const)(
    'of %d trials a condition is one page of %s, with all of its trials',
    async (repeats, paper) => {
      const experiment = experimentOf((text) => {
        return text.replace('repeats: 3', `repeats: ${repeats}`);
      });
      const { plan } = planOf(experiment);
      const trials = plan.timeLine.stretches.filter(({ kind }) => kind === 'baseline').length;
      const pages = await pagesOf(await typesetPdf(benchSheet({ experiment, plan, origin }), paper));
      expect(pages).toHaveLength(1);
      expect(pages[0]?.match(/\d L\/min/g)).toHaveLength(trials);
      if (repeats > 3) expect(trials).toBeGreaterThanOrEqual(20);
    },
  );

  test('of very many trials goes on over the page, and each page has the heads of the columns', async () => {
    const experiment = experimentOf((text) => {
      return text.replace('repeats: 3', 'repeats: 10').replace('length: 110 min', 'length: 8 h');
    });
    const { plan } = planOf(experiment);
    const trials = plan.timeLine.stretches.filter(({ kind }) => kind === 'baseline').length;
    const pages = await pagesOf(await typesetPdf(benchSheet({ experiment, plan, origin }), 'a4'));
    expect(pages.length).toBeGreaterThan(1);
    expect(pages.join(' ').match(/\d L\/min/g)).toHaveLength(trials);
    for (const page of pages.filter((text) => /\d L\/min/.test(text))) expect(page).toContain('meter shows');
  });

  test('is black on white', async () => {
    const [page] = await drawnOn(await typesetPdf(made.sheet, 'a4'));
    expect(page?.colours.length).toBeGreaterThan(0);
    for (const colour of page?.colours ?? []) {
      const [red, green, blue] = [1, 3, 5].map((at) => colour.slice(at, at + 2));
      expect(`${red} ${green} ${blue}`).toBe(`${red} ${red} ${red}`);
    }
  });
});

describe('a table that is longer than a page', () => {
  test('goes on over the page with all of its rows, also below a caption', async () => {
    const rows = Array.from({ length: 150 }, (_, i) => [`row ${i + 1}.`]);
    const columns = [{ title: 'the head', align: 'start' as const }];
    const report: Report = {
      ...made.sheet,
      density: 'usual',
      blocks: [{ kind: 'table', table: { caption: 'A caption', columns, rows } }],
    };
    const pages = await pagesOf(await typesetPdf(report, 'a4'));
    expect(pages.length).toBeGreaterThan(2);
    for (const page of pages) expect(page).toContain('the head');
    const text = pages.join(' ');
    for (const [words] of rows) expect(text).toContain(words);
  });
});

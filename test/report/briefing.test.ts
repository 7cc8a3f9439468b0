import { describe, expect, test } from 'vitest';
import { experimentSchema, parseChecked, planSession } from '../../src/experiment/index.ts';
import { svgToPng } from '../../src/figure/index.ts';
import {
  type Block,
  type BriefingPart,
  briefing,
  ownWords,
  practiceExamples,
  slidesHtml,
  typesetPdf,
} from '../../src/report/index.ts';
import { pagesOf } from './pages.ts';
import { experiment, origin, plan, predictions } from './thornwick.ts';

const examples = practiceExamples(experiment, plan);
const own = new Map<BriefingPart, readonly Block[]>([
  ['watch', ownWords('Bench 3 has the *blue* valve.\n\n- one\n- two', new Map()).blocks],
]);
const input = { experiment, plan, predictions, examples, own, origin };
const report = briefing(input);
const words = JSON.stringify(report.blocks);

describe('a briefing', () => {
  test('says what the experiment file and the plan say', () => {
    for (const said of [
      'set to 60, 120 L/min',
      'at least 15 s',
      '140 °C',
      'an error fraction of 0.1 is left: 2.3 time constants',
      'too quick to tell the two flows apart',
      'Whitaker',
    ]) {
      expect(words).toContain(said);
    }
    for (const { message } of plan.cautions) expect(words).toContain(message);
    for (const { body } of plan.timeLine.fitting) expect(words).toContain(body);
  });

  test('puts own words at the end of their part', () => {
    const kinds = report.blocks.map((block) => (block.kind === 'heading' ? block.text : block.kind));
    const from = kinds.indexOf('What to wait for and watch');
    expect(kinds.slice(from + 1, from + 6)).toEqual([
      'facts',
      'notes',
      'paragraph',
      'list',
      'A good recording, and what goes wrong',
    ]);
  });

  test('shows a recording that is good and others that are not, and says that they are simulated', () => {
    expect(examples.good?.figure.verdict).toBe('usable');
    expect(examples.wrong.length).toBeGreaterThanOrEqual(2);
    for (const { figure } of examples.wrong) expect(figure.verdict).not.toBe('usable');
    expect(words).toContain('Simulated with this rig’s numbers.');
  });

  test('is a hand-out on both papers, without the words for the speaker, the same each time', async () => {
    const pdf = await typesetPdf(report, 'a4');
    const text = (await pagesOf(pdf)).join(' ').replace(/\s+/g, ' ');
    expect(text).toContain('Bench 3 has the blue valve.');
    expect(text).toContain('Take care.');
    expect(text).not.toContain('Walk along the air line');
    expect(Buffer.from(await typesetPdf(briefing(input), 'a4')).equals(pdf)).toBe(true);
    // No clock in it: an entry with the time of setting would differ from one second to the next (ISO 32000-2, 14.3.3).
    expect(Buffer.from(pdf).includes('CreationDate')).toBe(false);
    expect((await pagesOf(await typesetPdf(report, 'us-letter'))).length).toBeGreaterThan(3);
  });

  test('sets a picture of the folder on paper and on slides', async () => {
    const [figure] = report.blocks.flatMap((block) => (block.kind === 'figure' ? [block.figure] : []));
    const bytes = await svgToPng(figure?.svg ?? '', 400, []);
    const pictures = new Map([['rig.png', { bytes, type: 'image/png' as const }]]);
    const { blocks } = ownWords('![Our own rig](rig.png)', pictures);
    const shown = briefing({ ...input, own: new Map([['set-up', blocks]]) });
    const text = (await pagesOf(await typesetPdf(shown, 'a4'))).join(' ');
    expect(text).toContain('Our own rig');
    const encoded = Buffer.from(bytes).toString('base64');
    expect(await slidesHtml(shown)).toContain(
      `<img src="data:image/png;base64,${encoded}" alt="Our own rig">`,
    );
  });

  test('gives the same slides each time', async () => {
    expect(await slidesHtml(briefing(input))).toBe(await slidesHtml(report));
  });

  test('bears an experiment that says next to nothing', () => {
    const bare = parseChecked('format: 1', experimentSchema);
    if (!bare.ok) throw new Error('an empty experiment must pass');
    const empty = planSession(bare.value, []);
    const none = practiceExamples(bare.value, empty);
    expect(none).toEqual({ good: null, wrong: [] });
    expect(() =>
      briefing({ ...input, experiment: bare.value, plan: empty, predictions: [], examples: none }),
    ).not.toThrow();
  });
});

/** Slope of y against t through the origin by its definition, Σty/Σt². */
function throughOrigin(points: readonly (readonly [number, number])[]): number {
  const sum = (of: (t: number, y: number) => number) => points.reduce((s, [t, y]) => s + of(t, y), 0);
  return sum((t, y) => t * y) / sum((t) => t * t);
}

/** Readings of exp(−t), whose time constant is 1, as somebody sees them who is off, within 0.9 to 0.1. */
function seen(shift: number, ambient: number): [number, number][] {
  return Array.from({ length: 20_000 }, (_, i) => i / 4000).flatMap((t): [number, number][] => {
    const fraction = (Math.exp(-t) - ambient) / (1 - ambient);
    return fraction <= 0.9 && fraction >= 0.1 ? [[t + shift, Math.log(fraction)]] : [];
  });
}

describe('the slips that it warns of', () => {
  test('cost what it says, by arithmetic with an exact exponential', () => {
    expect(-1 / throughOrigin(seen(0, 0))).toBeCloseTo(1, 6);
    // A clock that is off by a tenth of the time constant.
    expect(-1 / throughOrigin(seen(0.1, 0)) - 1).toBeCloseTo(0.07, 2);
    // An ambient that is off by 5 % of the step, either way.
    expect(-1 / throughOrigin(seen(0, 0.05)) - 1).toBeCloseTo(-0.12, 2);
    expect(-1 / throughOrigin(seen(0, -0.05)) - 1).toBeCloseTo(0.18, 2);
    expect(Math.LN10).toBeCloseTo(2.3, 2);
    for (const said of ['12 % to 18 %', 'adds 7 %', '2.3 times']) expect(words).toContain(said);
  });
});

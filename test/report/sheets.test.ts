import { describe, expect, test } from 'vitest';
import { benchSheet, typesetPdf } from '../../src/report/index.ts';
import { pagesOf } from './pages.ts';
import { experiment, origin, plan } from './thornwick.ts';

const sheet = benchSheet({ experiment, plan, origin });

describe('a bench sheet', () => {
  test.each(['a4', 'us-letter'] as const)('is one page of %s', async (paper) => {
    const pages = await pagesOf(await typesetPdf(sheet, paper));
    expect(pages).toHaveLength(1);
    const [text = ''] = pages;
    for (const word of ['120 L/min', 'Group code', 'Initials', 'Room pressure', '140 °C', 'Take care.']) {
      expect(text).toContain(word);
    }
  });

  test('lists the trials of the plan, each with its planned minute', async () => {
    const trials = plan.timeLine.stretches.filter(({ kind }) => kind === 'baseline');
    const table = sheet.blocks.flatMap((block) =>
      block.kind === 'table' && block.table.columns[0]?.title === 'at' ? [block.table] : [],
    );
    expect(table[0]?.rows).toHaveLength(trials.length);
    const [first] = trials;
    expect(table[0]?.rows[0]?.[0]).toBe(`${Math.round((first?.from ?? 0) / 60)} min`);
  });

  test('for those who are to find them out says no time constant, and no time that it is read off from', async () => {
    const plain = benchSheet({ experiment, plan, origin, expected: false });
    const [text = '', ...more] = await pagesOf(await typesetPdf(plain, 'a4'));
    expect(more).toEqual([]);
    expect(text).not.toContain('τ');
    const cells = plain.blocks.flatMap((block) => (block.kind === 'table' ? block.table.rows.flat() : []));
    for (const { timeConstant, predicted, trial } of plan.conditions) {
      for (const value of [timeConstant.value, predicted.value, trial.cooling, trial.heating]) {
        const written = [2, 3].map((digits) => String(Number(value.toPrecision(digits))));
        expect(cells.filter((cell) => typeof cell === 'string' && written.includes(cell))).toEqual([]);
      }
    }
    for (const { message } of plan.cautions) expect(JSON.stringify(plain.blocks)).toContain(message);
  });

  test('says every caution of the plan, and what is left out and why', async () => {
    const text = JSON.stringify(sheet.blocks);
    for (const { message } of plan.cautions) expect(text).toContain(message);
    for (const { why } of plan.leftOut) expect(text).toContain(why);
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { ComparisonView } from '../../src/server/contract/index.ts';
import { choiceFrom, groupsAfter, searchWith, toggled } from '../../web/src/compare/choice.ts';
import {
  comparedConditions,
  countWords,
  diameterSeries,
  groupsOf,
  notedAbout,
  speedSeries,
  theoryBasis,
} from '../../web/src/compare/compared.ts';

const text = readFileSync(new URL('../../demo/thornwick/experiment.yaml', import.meta.url), 'utf8');

function condition(body: string, flow: string, value: number): ComparisonView['conditions'][number] {
  return {
    body,
    flow,
    measured: {
      value,
      standardUncertainty: 0.01 * value,
      interval: [0.98 * value, 1.02 * value],
      runs: [
        { path: 'recordings/A/A10/x.txt', group: 'A10', value },
        { path: 'recordings/A/A2/x.txt', group: 'A2', value },
      ],
    },
    predicted: { value, interval: [0.77 * value, null] },
    verdict: 'inconclusive',
    sentence: '',
    remarks: [],
  };
}

const view: ComparisonView = {
  conditions: [
    condition('brass-12', '60', 57),
    condition('brass-20', '60', 123),
    condition('brass-12', '120', 39),
    { ...condition('unheard-of', '60', 1), predicted: null, verdict: null },
  ],
  trends: [
    {
      material: 'brass, cartridge, 70 Cu 30 Zn',
      what: 'diameter',
      exponent: { value: 1.5, interval: null, expected: 1.5 },
      sentence: '',
    },
  ],
  noted: [],
  left: [],
};

describe('the choice', () => {
  it('stands in the address and comes back from it, beside what else stands there', () => {
    const choice = { without: ['brass-12 at 60', 'odd & name=1'], groups: ['A1', 'B 2'] };
    const search = searchWith('view=projector&group=old', choice);
    expect(search).toContain('view=projector');
    expect(choiceFrom(search)).toEqual(choice);
    expect(searchWith(search, { without: [], groups: [] })).toBe('view=projector');
  });

  it('takes one group out of all, and all again is no choice', () => {
    const all = ['A1', 'A2', 'A3'];
    expect(groupsAfter(all, [], 'A2')).toEqual(['A1', 'A3']);
    expect(groupsAfter(all, ['A1', 'A3'], 'A2')).toEqual([]);
    expect(groupsAfter(all, ['A1'], 'A1')).toEqual([]);
    expect(toggled(['a'], 'a')).toEqual([]);
  });
});

describe('the comparison', () => {
  it('counts verdicts in words and lists groups in their order', () => {
    expect(countWords(view.conditions)).toEqual(['3 too weak to tell', '1 without a prediction']);
    expect(groupsOf(view)).toEqual(['A2', 'A10']);
  });

  it('keeps in mind what is said of the recordings of chosen conditions', () => {
    const note = { code: 'rig-check-outside', severity: 'caution', message: 'The gain was 190.' } as const;
    const conditions = view.conditions.map((one, i) => {
      const runs = [{ path: `recordings/${i}.txt`, group: 'A1', value: 1 }];
      return { ...one, measured: { ...one.measured, runs } };
    });
    const noted = [{ ...note, paths: ['recordings/0.txt', 'recordings/1.txt'] }];
    expect(notedAbout(noted, conditions)).toEqual(noted);
    expect(notedAbout(noted, conditions.slice(0, 1))).toEqual([{ ...note, paths: ['recordings/0.txt'] }]);
    expect(notedAbout(noted, conditions.slice(2))).toEqual([]);
  });

  it('draws what is both measured and predicted', () => {
    expect(comparedConditions(view.conditions)).toHaveLength(3);
    expect(comparedConditions(view.conditions)[0]?.predictedInterval[1]).toBeNull();
  });

  it('puts bodies of one material and flow on one trend, and a body in two flows', () => {
    const basis = theoryBasis(text);
    const [diameter, ...others] = diameterSeries(view.conditions, view.trends, basis);
    expect(others).toHaveLength(0);
    expect(diameter?.name).toBe('brass at 60');
    expect(diameter?.expected).toBe(1.5);
    expect(diameter?.points.map(({ x }) => x)).toEqual([12, 20]);
    const [speed] = speedSeries(view.conditions, view.trends, basis);
    expect(speed?.name).toBe('brass-12');
    const [slow, fast] = speed?.points.map(({ x }) => x) ?? [];
    // Close to the nozzle the speed at the body is that in the mouth, which goes with the flow.
    expect((fast ?? 0) / (slow ?? 1)).toBeCloseTo(2, 6);
  });

  it('has no trends and no band where the file cannot be read', () => {
    const basis = theoryBasis('bodies: [');
    expect(basis.accuracy).toBeNull();
    expect(diameterSeries(view.conditions, view.trends, basis)).toEqual([]);
  });
});

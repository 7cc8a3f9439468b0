import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { experimentTemplate } from '../../src/experiment/index.ts';
import { changeWords } from '../../web/src/plan/change-words.ts';
import { shownDifference } from '../../web/src/plan/difference.ts';
import { keyOf, readTree, realEdits, typedValue, withEdits, writingAt } from '../../web/src/plan/edits.ts';
import { columnsOf, dominances, expectedRows } from '../../web/src/plan/expectation.ts';
import { fieldGroups, isFaultOf } from '../../web/src/plan/fields.ts';
import { reckon, sessionWords } from '../../web/src/plan/outcome.ts';
import { sessionFigureData } from '../../web/src/plan/session-figure.ts';
import { editsFrom } from '../../web/src/plan/unsaved.ts';

const text = readFileSync(new URL('../../demo/thornwick/experiment.yaml', import.meta.url), 'utf8');
const diameter = ['bodies', 'brass-12', 'diameter'];

function outcomeOf(edited: string) {
  const reckoned = reckon(edited);
  if (!reckoned.ok) throw new Error(reckoned.faults.map(({ message }) => message).join());
  return reckoned.outcome;
}

function edit(place: readonly string[], typed: string): string {
  const edited = withEdits(text, { [keyOf(place)]: typed });
  if (!edited.ok) throw new Error(edited.message);
  return edited.text;
}

describe('what is typed', () => {
  it('is read as the file would read it', () => {
    expect(['3', '0.1', '12.00 mm +- 0.02 mm', '"14:00"', ' ', '{ a: 1 }', '*x'].map(typedValue)).toEqual([
      3,
      0.1,
      '12.00 mm +- 0.02 mm',
      '14:00',
      null,
      '{ a: 1 }',
      '*x',
    ]);
  });

  it("begins with the file's own writing and is no change until it differs", () => {
    const tree = readTree(text);
    expect(writingAt(tree, diameter)).toBe('12.00 mm +- 0.02 mm');
    expect(realEdits(tree, { [keyOf(diameter)]: ' 12.00 mm +- 0.02 mm ' })).toEqual({});
    expect(Object.keys(realEdits(tree, { [keyOf(diameter)]: '13 mm' }))).toHaveLength(1);
  });

  it('changes its own line alone', () => {
    const changed = edit(['session', 'length'], '3 h').split('\n');
    const lines = text.split('\n');
    expect(changed.filter((line, i) => line !== lines[i])).toEqual(['  length: 3 h']);
  });

  it('survives a reload, and whatever else stands in the store does no harm', () => {
    expect(editsFrom(JSON.stringify({ a: '1 mm' }))).toEqual({ a: '1 mm' });
    for (const odd of ['', '[]', 'null', '{"a":1}', '{', '"x"']) expect(editsFrom(odd)).toEqual({});
  });

  it('is refused with the message of the check, at its field', () => {
    const refused = reckon(edit(['nozzle', 'stand-off'], '12 furlongs'));
    expect(refused.ok).toBe(false);
    if (refused.ok) return;
    expect(refused.faults.filter((fault) => isFaultOf(fault, ['nozzle', 'stand-off']))).toHaveLength(1);
  });
});

describe('the fields', () => {
  it('are those of the demo and of a fresh experiment file', () => {
    const headings = fieldGroups(readTree(text)).map(({ heading }) => heading);
    expect(headings).toEqual(expect.arrayContaining(['Session', 'Flows', 'brass-12', 'bare-junction']));
    expect(fieldGroups(readTree(experimentTemplate))).not.toHaveLength(0);
    for (const odd of ['', '[]', '- 1', 'bodies: [1]', 'bodies: { a: &x { diameter: 1 mm }, b: *x }'])
      expect(() => fieldGroups(readTree(odd))).not.toThrow();
  });
});

describe('the plan', () => {
  const before = outcomeOf(text);

  it('follows a longer session: more fits', () => {
    const now = outcomeOf(edit(['session', 'length'], '4 h'));
    expect(before.plan.timeLine.notFitting.length).toBeGreaterThan(0);
    expect(now.plan.timeLine.notFitting).toHaveLength(0);
    expect(changeWords(now, before)).toBe('Everything fits.');
  });

  it('follows a larger body: tau rises about as D^1.5, and old stands beside new', () => {
    // Forced convection of Re^0.5 to Re^0.6: tau goes as D^1.5 to D^1.4 (Incropera, Fundamentals of Heat and Mass
    // Transfer, 7.5; from memory); wires and radiation lower it a little more.
    const now = outcomeOf(edit(['bodies', 'brass-20', 'diameter'], '24 mm'));
    const row = expectedRows(now, before).find(({ name }) => name === 'brass-20 at 60');
    const cell = row?.cells.timeConstant;
    const exponent = Math.log(Number(cell?.now) / Number(cell?.was)) / Math.log(24 / 20);
    expect(exponent).toBeGreaterThan(1.35);
    expect(exponent).toBeLessThan(1.6);
    const other = expectedRows(now, before).find(({ name }) => name === 'brass-12 at 60');
    expect(other?.cells.timeConstant.was).toBeNull();
  });

  it('says what dominates: convection for a sphere, wires as well for a bare junction', () => {
    const said = new Map(dominances(before).map((one) => [one.body, one]));
    expect(said.get('brass-20')?.heat).toMatch(/^convection 9/);
    expect(said.get('bare-junction')?.heat).toContain('wires');
  });

  it('draws what does not fit with all of its trials', () => {
    const data = sessionFigureData(before.plan, '14:00', 3);
    expect(data.start).toBe(840);
    const [first] = data.notFitting;
    expect(first?.stretches.filter(({ kind }) => kind === 'cooling')).toHaveLength(3);
    expect(first?.stretches.filter(({ kind }) => kind === 'settling')).toHaveLength(2);
  });

  it('draws now where it falls into the session, also past midnight', () => {
    const now = (start: string | undefined, minute: number | null) =>
      sessionFigureData(before.plan, start, 3, minute).now;
    expect(now('14:00', 14 * 60 + 30)).toBe(1800);
    expect(now('23:50', 10)).toBe(1200);
    // The ice bath is made half an hour before its use, which is set up 15 min into the session.
    expect(now('14:00', 13 * 60 + 50)).toBe(-600);
    for (const minute of [9 * 60, 20 * 60, null]) expect(now('14:00', minute)).toBeNull();
    expect(now(undefined, 14 * 60)).toBeNull();
  });

  it("goes by the rig's own correlation only where that is surer than theory", () => {
    const theory = before.predicted.get('brass-20 at 60');
    if (theory?.ok !== true) throw new Error('it must be predicted');
    const { value } = theory.prediction.timeConstant;
    const by = (width: number) => {
      const interval = [value / width, value * width] as const;
      const rig = [{ condition: { body: 'brass-20', flow: '60' }, value, standardUncertainty: 1, interval }];
      const reckoned = reckon(text, { measured: [], rig, predicted: before.predicted });
      if (!reckoned.ok) throw new Error('the file has faults');
      const { plan } = reckoned.outcome;
      const own = plan.conditions.find(
        ({ condition }) => condition.body === 'brass-20' && condition.flow === '60',
      );
      return {
        source: own?.timeConstant.source,
        words: sessionWords(plan).rest,
        columns: columnsOf(reckoned.outcome),
      };
    };
    const sure = by(1.05);
    expect(sure.source).toBe('rig');
    expect(sure.words).toContain("the rig's own correlation for 1 and theory for");
    expect(sure.columns).toContain('rig');
    const unsure = by(3);
    expect(unsure.source).toBe('theory');
    expect(unsure.columns).toContain('rig');
  });

  it('goes by what was measured, altered as theory alters', () => {
    const condition = { body: 'brass-20', flow: '60' };
    const measured = [{ condition, value: 200, standardUncertainty: 2, interval: [196, 204] as const }];
    const shown = { measured, rig: [], predicted: before.predicted };
    const plannedBy = (edited: string) => {
      const reckoned = reckon(edited, shown);
      if (!reckoned.ok) throw new Error('the file has faults');
      const { plan, predicted } = reckoned.outcome;
      const one = predicted.get('brass-20 at 60');
      const theory = one?.ok === true ? one.prediction.timeConstant.value : Number.NaN;
      const used = plan.conditions.find(
        (own) => own.condition.body === 'brass-20' && own.condition.flow === '60',
      );
      return { theory, used: used?.timeConstant, reckoned };
    };
    const same = plannedBy(text);
    expect(same.used).toMatchObject({ value: 200, source: 'measured' });
    expect(sessionWords(same.reckoned.outcome.plan).rest).toContain('measured time constants of 1');
    expect(columnsOf(same.reckoned.outcome)).toContain('measured');
    expect(columnsOf(before)).not.toContain('measured');
    const larger = plannedBy(edit(['bodies', 'brass-20', 'diameter'], '24 mm'));
    expect(larger.used?.value).toBeCloseTo((200 * larger.theory) / same.theory, 9);
  });
});

describe('the difference', () => {
  it('shows the lines that change with a line around, and gaps between', () => {
    const lines = Array.from({ length: 12 }, (_, i) => ({
      kind: 'same' as const,
      line: i + 1,
      text: `${i}`,
    }));
    const changed = [
      ...lines.slice(0, 4),
      { kind: 'gone' as const, line: 5, text: 'a' },
      { kind: 'new' as const, line: 5, text: 'b' },
      ...lines.slice(4, 10),
      { kind: 'new' as const, line: 12, text: 'c' },
    ];
    expect(shownDifference(changed).map(({ kind }) => kind)).toEqual([
      'same',
      'gone',
      'new',
      'same',
      'gap',
      'same',
      'new',
    ]);
  });
});

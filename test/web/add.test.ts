import { describe, expect, it } from 'vitest';
import { experimentSchema, parseChecked } from '../../src/experiment/index.ts';
import {
  codesOf,
  destination,
  namesAsked,
  nextRepeat,
  placeFields,
  withPlace,
} from '../../web/src/add/belongs.ts';
import { fieldsOf, firstRows, optionsOf, understoodSentence } from '../../web/src/add/words.ts';

const text = `
course: Thornwick
bodies:
  brass-12: { diameter: 12 mm, material: brass }
flows: { 60: 60 L/min }
sections: [A, B]
benches: [bench-1]
groups:
  A1: { section: A, bench: bench-1 }
recordings: "recordings/{section}/{group}/{body}_{flow}-{repeat}"
`;
const read = parseChecked(text, experimentSchema);
if (!read.ok) throw new Error(JSON.stringify(read));
const experiment = read.value;

const understood = {
  encoding: 'utf-8',
  delimiter: ';',
  decimal: ',',
  thousands: null,
  firstDataLine: 5,
  time: 'column 1, in seconds',
  rate: 100,
  samples: 17535,
  duration: 175.34,
  channel: 'Junction',
  column: 2,
  unit: 'degC',
  channels: [{ column: 2, name: 'Junction', unit: 'degC' }],
  preamble: [],
  remarks: [],
};

describe('what was understood of a file', () => {
  it('is said in one sentence', () => {
    expect(understoodSentence(understood)).toBe(
      'Columns parted by semicolons, decimal comma, utf-8; time: column 1, in seconds; channel “Junction” in column 2, in °C; 100.0 Hz, 17\u00a0535 readings over 175.3 s.',
    );
  });

  it('names the columns of the first rows, from the header on', () => {
    const rows = Array.from({ length: 12 }, (_, i) => ({ line: i + 1, cells: ['0', '1'] }));
    const shown = firstRows({ understood, rows });
    expect(shown.columns.map(({ name, role }) => [name, role])).toEqual([
      ['column 1', 'time'],
      ['Junction', 'taken'],
    ]);
    expect(shown.rows[0]?.line).toBe(3);
  });
});

describe('corrections', () => {
  const empty = fieldsOf({});

  it('ask for nothing where nothing is filled in', () => {
    expect(optionsOf(empty)).toEqual({ ok: true, options: {} });
  });

  it('go out and come back the same', () => {
    const options = {
      channel: 3,
      unit: 'mV',
      rate: 12.5,
      delimiter: '\t',
      timeUnit: 'ms',
      segment: 2,
    } as const;
    expect(optionsOf(fieldsOf(options))).toEqual({ ok: true, options });
  });

  it('take a decimal comma, and refuse what is no rate', () => {
    expect(optionsOf({ ...empty, rate: '0,5' })).toEqual({ ok: true, options: { rate: 0.5 } });
    expect(optionsOf({ ...empty, rate: '100 Hz' })).toEqual({ ok: true, options: { rate: 100 } });
    expect(optionsOf({ ...empty, rate: '10 ms' })).toEqual({ ok: true, options: { rate: 100 } });
    for (const rate of ['0', '-1', 'fast', '1e9', '0 s', '3 m']) {
      expect(optionsOf({ ...empty, rate })).toMatchObject({ ok: false, field: 'rate' });
    }
    for (const segment of ['0', '1.5', 'last']) {
      expect(optionsOf({ ...empty, segment })).toMatchObject({ ok: false, field: 'segment' });
    }
  });
});

describe('what a recording is of', () => {
  const fields = { ...placeFields(null), body: 'brass-12', flow: '60', repeat: '1' };

  it('is asked for by the names of the pattern', () => {
    expect(namesAsked(experiment)).toEqual(['section', 'group', 'body', 'flow', 'repeat']);
    expect(codesOf(experiment, 'group')).toEqual(['A1']);
  });

  it('brings section and bench along with the group', () => {
    const chosen = withPlace(experiment, fields, 'group', 'A1');
    expect(chosen).toMatchObject({ section: 'A', bench: 'bench-1' });
    expect(destination(experiment, chosen, 'x.CSV')).toMatchObject({
      ok: true,
      path: 'recordings/A/A1/brass-12_60-1.csv',
    });
  });

  it('is the next repeat that its condition and group has not', () => {
    const there = (group: string, flow: string, repeat: number) => ({
      section: 'A',
      group,
      bench: null,
      body: 'brass-12',
      flow,
      repeat,
    });
    const chosen = { ...fields, group: 'A1' };
    expect(nextRepeat(chosen, [])).toBe(1);
    const taken = [there('A1', '60', 1), there('A1', '60', 3), there('A1', '120', 2), there('A2', '60', 2)];
    expect(nextRepeat(chosen, taken)).toBe(2);
    expect(nextRepeat(chosen, [...taken, there('A1', '60', 2)])).toBe(4);
  });

  it('says what is still to be chosen, and what is no repeat', () => {
    expect(destination(experiment, fields, 'x.txt')).toEqual({
      ok: false,
      message: 'Still to be chosen: section, group.',
    });
    const chosen = withPlace(experiment, fields, 'group', 'A1');
    for (const repeat of ['0', '1.5', 'two', '100']) {
      expect(destination(experiment, { ...chosen, repeat }, 'x.txt').ok).toBe(false);
    }
  });
});

import { describe, expect, test } from 'vitest';
import { experimentSchema, parseChecked } from '../../src/experiment/index.ts';

function faultsOf(text: string): string[] {
  const checked = parseChecked(text, experimentSchema);
  if (checked.ok) return [];
  return checked.faults.map((fault) => `${fault.line} ${fault.place}: ${fault.message}`);
}

describe('an experiment file', () => {
  test('gives quantities in SI, temperatures in °C, and the usual protocol where nothing is said', () => {
    const checked = parseChecked(
      [
        'mains: 60 Hz',
        'sensor: { thermocouple: T, gain: 200, zero: 1.3 mV, junction: ice }',
        'protocol:',
        '  target: 203 degF',
        '  baseline: 0.5 min',
        'bodies:',
        '  brass-12: { limit: 140 degC }',
      ].join('\n'),
      experimentSchema,
    );
    if (!checked.ok) throw new Error(checked.faults.map((fault) => fault.message).join('\n'));
    const { value } = checked;
    expect(value.mains).toBe(60);
    expect(value.sensor.zero?.value).toBeCloseTo(0.0013, 12);
    // 203 °F is 95 °C exactly: (203 - 32) × 5/9.
    expect(value.protocol.target).toBeCloseTo(95, 10);
    expect(value.protocol.baseline).toBe(30);
    expect(value.protocol['end-fraction']).toBe(0.1);
    expect(value.bodies['brass-12']?.limit).toBe(140);
  });

  test('names line, place and mend of everything that does not fit, in the order of the file', () => {
    const faults = faultsOf(
      [
        'course: Thornwick',
        'protocol:',
        '  target: 95',
        '  end-fraction: 2',
        'sensor:',
        '  thermocouple: X',
        '  gian: 200',
      ].join('\n'),
    );
    expect(faults.map((fault) => fault.split(':')[0])).toEqual([
      '3 protocol › target',
      '4 protocol › end-fraction',
      '6 sensor › thermocouple',
      '7 sensor › gian',
    ]);
    expect(faults[0]).toContain('95 degC');
    expect(faults[2]).toContain('B, E, J, K, N, R, S, T');
  });

  test('refuses a mains frequency that no grid has, and a window the wrong way round', () => {
    expect(faultsOf('mains: 100 Hz')).toEqual(['1 mains: must be 50 Hz or 60 Hz']);
    expect(faultsOf('protocol: { window: { from: 0.1, to: 0.9 } }')[0]).toContain(
      'from must be larger than to',
    );
  });

  test('says how documents are set: two figures on A4 where nothing is said', () => {
    const read = (text: string) => {
      const checked = parseChecked(text, experimentSchema);
      return checked.ok ? checked.value.report : null;
    };
    expect(read('course: Thornwick')).toEqual({ 'uncertainty-figures': 2, paper: 'A4' });
    expect(read('report: { uncertainty-figures: 1, paper: US Letter }')).toEqual({
      'uncertainty-figures': 1,
      paper: 'US Letter',
    });
    expect(faultsOf('report:\n  uncertainty-figures: 3\n  paper: A5')).toEqual([
      '2 report › uncertainty-figures: must be 1 or 2',
      '3 report › paper: must be A4 or US Letter',
    ]);
    expect(faultsOf('report: { papper: A4 }')).toHaveLength(1);
  });

  test('says what broken YAML wants, with its line', () => {
    expect(faultsOf('course: a\nsensor: [T')[0]).toMatch(/^2 :/);
    expect(faultsOf('')[0]).toContain('list of keys');
    expect(faultsOf('course: a\ncourse: b')[0]).toMatch(/^2 course: .*unique/);
  });

  test('does not follow an alias that stands for ever larger trees', () => {
    const bomb = ['a: &a [x, x, x, x, x, x, x, x, x]'];
    for (let i = 1; i < 12; i++) {
      const [name, last] = [`a${i}`, i === 1 ? 'a' : `a${i - 1}`];
      bomb.push(`${name}: &${name} [${Array.from({ length: 9 }, () => `*${last}`).join(', ')}]`);
    }
    expect(faultsOf(bomb.join('\n'))[0]).toContain('aliases');
  });

  test('keys that would reach into an object are codes like any other, and are refused', () => {
    expect(faultsOf('__proto__: { polluted: 1 }')[0]).toContain('__proto__');
    expect(faultsOf('bodies: { __proto__: { limit: 3 degC }, brass: {} }')[0]).toContain('take another');
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
    expect(faultsOf('bodies: { "../up": {} }')[0]).toContain('letters, digits');
  });

  test('a file that is no experiment by its size alone is not parsed', () => {
    expect(faultsOf(`course: ${'x'.repeat(1 << 20)}`)[0]).toContain('256 KiB');
  });

  test('names its term and the folders of earlier ones', () => {
    const checked = parseChecked(
      ['term: 2026', 'earlier-terms: [../thornwick-2025, " /srv/courses/2024 "]'].join('\n'),
      experimentSchema,
    );
    if (!checked.ok) throw new Error(checked.faults.map((fault) => fault.message).join('\n'));
    expect(checked.value.term).toBe('2026');
    expect(checked.value['earlier-terms']).toEqual(['../thornwick-2025', '/srv/courses/2024']);
  });

  test('refuses terms and folders that cannot be meant', () => {
    expect(faultsOf(`term: "${'x'.repeat(41)}"`).join()).toContain('1 term: write 1 to 40 characters');
    expect(faultsOf('term: "  "').join()).toContain('write 1 to 40 characters');
    expect(faultsOf('term: "a\\nb"').join()).toContain('in one line');
    expect(faultsOf('earlier-terms: ../thornwick-2025').join()).toContain('write a list of folders');
    expect(faultsOf('earlier-terms: [../a, ../a]').join()).toContain('stands here twice');
    expect(faultsOf('earlier-terms: ["../a\\0b"]').join()).toContain('without line breaks');
    expect(faultsOf(`earlier-terms: [${Array.from({ length: 21 }, (_, i) => `../t${i}`)}]`).join()).toContain(
      'list at most 20',
    );
  });
});

import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { experimentSchema, experimentTemplate, parseChecked } from '../../src/experiment/index.ts';
import { experimentOf, faultsOf } from './read.ts';

describe('hostile experiment files', () => {
  test.each([
    ['brackets', '['.repeat(200_000)],
    ['lists', `${'- '.repeat(100_000)}a`],
    ['keys', `${'? '.repeat(100_000)}a`],
    ['brackets that texts seem to close', `[']',`.repeat(50_000)],
    ['brackets that remarks seem to close', '[ #]\n'.repeat(50_000)],
    ['indent', Array.from({ length: 600 }, (_, i) => `${' '.repeat(i)}a:`).join('\n')],
    [
      'lists within indent',
      Array.from({ length: 60 }, (_, i) => `${' '.repeat(80 * i)}${'- '.repeat(40)}`).join('\n'),
    ],
  ])('nesting without end by %s is refused, not followed', (_, text) => {
    expect(faultsOf(text)).toEqual([expect.stringContaining('nested too deep')]);
  });

  test('tens of thousands of keys are answered quickly, with as many faults as a person reads', () => {
    const text = Array.from({ length: 30_000 }, (_, i) => `a${i}:`).join('\n');
    const started = performance.now();
    const faults = faultsOf(text);
    expect(faults).toHaveLength(51);
    expect(faults.at(-1)).toContain('29950 more faults');
    // Comparing each key with each took minutes.
    expect(performance.now() - started).toBeLessThan(10_000);
  });

  test('an anchor inside itself is no endless file', () => {
    expect(faultsOf('bodies: &a { x: *a }').length).toBeGreaterThan(0);
    expect(faultsOf('course: &a [*a]').length).toBeGreaterThan(0);
  });

  test.each(['constructor', 'toString', 'hasOwnProperty', 'valueOf'])('%s is no code', (word) => {
    expect(faultsOf(`bodies: { ${word}: {} }`)[0]).toContain('another code');
    expect(faultsOf(`conditions: { left-out: [{ body: ${word}, why: none }] }`)[0]).toContain(
      'there is no body',
    );
  });

  test('tags, second documents and merge keys are refused in plain words', () => {
    expect(faultsOf('course: !!js/function "x"')[0]).toContain('exclamation mark');
    expect(faultsOf('course: a\n---\ncourse: b')[0]).toMatch(/^2 : a second document/);
    expect(faultsOf('bodies: { <<: { a: {} } }')[0]).toContain('a code is made of');
  });

  test('numbers beyond all bounds and texts without end are refused where they stand', () => {
    expect(faultsOf('sensor: { gain: 1e400 }')[0]).toMatch(/^1 sensor › gain/);
    expect(faultsOf(`room: { pressure: ${'9'.repeat(5000)} Pa, temperature: 1e999 degC }`)).toEqual([
      '1 room › pressure: Write at most 200 characters.',
      expect.stringContaining('too large a number'),
    ]);
    expect(faultsOf(`course: ${'x'.repeat(100_000)}`)).toEqual(['1 course: Write at most 200 characters.']);
    const [long = ''] = faultsOf(`${'k'.repeat(900)}: 1`);
    expect(long.length).toBeLessThan(200);
  });

  test('codes that a disk may not tell apart are refused, and codes keep their zeros', () => {
    expect(faultsOf('bodies: { a: {}, A: {} }')[0]).toContain('capitals');
    expect(faultsOf('sections: [a, A]')[0]).toContain('capitals');
    expect(faultsOf('sections: [01]')[0]).toContain('"01"');
    expect(Object.keys(experimentOf('flows: { 060: still }').flows)).toEqual(['060']);
  });

  test('whatever is broken in the example, the answer is a value or faults with lines', () => {
    const lines = experimentTemplate.split('\n').length;
    const change = fc.record({
      at: fc.nat(experimentTemplate.length),
      cut: fc.nat(40),
      put: fc.oneof(
        fc.string({ maxLength: 20 }),
        fc.constantFrom('[', '{', '&a', '*a', '- ', '\t', ': ', '!!map', '"'),
      ),
    });
    fc.assert(
      fc.property(change, ({ at, cut, put }) => {
        const text = experimentTemplate.slice(0, at) + put + experimentTemplate.slice(at + cut);
        const checked = parseChecked(text, experimentSchema);
        if (checked.ok) return;
        expect(checked.faults.length).toBeGreaterThan(0);
        for (const { line, message } of checked.faults) {
          expect(line).toBeGreaterThanOrEqual(1);
          expect(line).toBeLessThanOrEqual(lines + put.length);
          expect(message).not.toBe('');
        }
      }),
      { seed: 7, numRuns: 150 },
    );
  });
});

describe('faults', () => {
  test('are told with the line of the key, also below codes that look like numbers', () => {
    const text = [
      'flows:',
      '  60: 60 L/min',
      '  120: 120',
      'bodies:',
      '  a:',
      '    mass:',
      '      7 km',
    ].join('\n');
    expect(faultsOf(text).map((fault) => fault.split(':')[0])).toEqual([
      '3 flows › 120',
      '6 bodies › a › mass',
    ]);
  });

  test('of an own material name the value, not only the material', () => {
    const text =
      'bodies:\n  a:\n    material:\n      density: 8500\n      specific-heat: 380 J/(kg K)\n      conductivity: 110 W/(m K)';
    expect(faultsOf(text)).toEqual([
      expect.stringMatching(/^4 bodies › a › material › density: "8500" has no unit/),
    ]);
    expect(faultsOf('bodies: { a: { material: tin } }')[0]).toContain('brass');
  });

  test('of codes that are defined nowhere name the code', () => {
    const text =
      'sections: [A]\ngroups:\n  G1: { section: B }\nconditions: { left-out: [{ flow: 60, why: slow }] }';
    expect(faultsOf(text)).toEqual([
      '3 groups › G1 › section: there is no section "B" in this file; it has A',
      '4 conditions › left-out › 0 › flow: there is no flow "60" in this file; it lists none',
    ]);
  });
});

test('the example folder holds an experiment file that fits', () => {
  const experiment = experimentOf(readFileSync('examples/thornwick/experiment.yaml', 'utf8'));
  expect(Object.keys(experiment.bodies)).toContain('brass-12');
});

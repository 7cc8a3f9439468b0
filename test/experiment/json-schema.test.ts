import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { experimentJsonSchema, experimentTemplate } from '../../src/experiment/index.ts';
import { experimentOf } from './read.ts';

const text = experimentJsonSchema();
const schema = z.record(z.string(), z.unknown()).parse(JSON.parse(text));
const validator = z.fromJSONSchema(schema);

function accepts(yaml: string): boolean {
  return validator.safeParse(parse(yaml, { stringKeys: true })).success;
}

/** Every schema within a schema. */
function* within(node: unknown): Generator<Record<string, unknown>> {
  if (Array.isArray(node)) for (const item of node) yield* within(item);
  if (typeof node !== 'object' || node === null || Array.isArray(node)) return;
  const record = z.record(z.string(), z.unknown()).parse(node);
  yield record;
  for (const value of Object.values(record)) yield* within(value);
}

describe('the JSON Schema of the experiment file', () => {
  test('is of the dialect that it names, and is written the same every time', () => {
    expect(schema['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(experimentJsonSchema()).toBe(text);
    expect(text.endsWith('}\n')).toBe(true);
  });

  test('accepts the example and the experiment of the example folder', () => {
    expect(accepts(experimentTemplate)).toBe(true);
    expect(accepts(readFileSync('examples/thornwick/experiment.yaml', 'utf8'))).toBe(true);
  });

  test.each([
    ['a key that is none', 'rooom: {}'],
    ['a quantity without unit', 'bodies: { a: { diameter: 12 } }'],
    [
      'a meter without its reference',
      'meter: { kind: variable-area, line: { pressure: 1 bar(g), temperature: 20 degC } }',
    ],
    ['a code with a slash', 'bodies: { a/b: {} }'],
    ['an end fraction of 2', 'protocol: { end-fraction: 2 }'],
    ['a paper that there is not', 'report: { paper: A5 }'],
    ['three figures of an uncertainty', 'report: { uncertainty-figures: 3 }'],
    ['a material that is not listed', 'bodies: { a: { material: tin } }'],
  ])('refuses %s', (_, yaml) => {
    expect(accepts(yaml)).toBe(false);
  });

  test('says of every value what it is', () => {
    const values = [...within(schema)].filter(
      ({ type, examples }) => type === 'string' && examples !== undefined,
    );
    expect(values.length).toBeGreaterThan(40);
    for (const { description } of values) expect(description).toMatch(/\S/);
  });

  test('has defaults that the file itself may hold', () => {
    const protocol =
      'protocol: { baseline: 15 s, end-fraction: 0.1, ambient-offset: 0.3 K, drift: 0.05 K/min, repeats: 3, window: { from: 0.9, to: 0.1 } }';
    expect(experimentOf(protocol).protocol).toEqual(experimentOf('{}').protocol);
    const session =
      'session: { set-up: 15 min, zeroing: 2 min, change-over: 2 min, ice-bath: 30 min, reserve: 10 min }';
    expect(experimentOf(session).session).toEqual(experimentOf('{}').session);
  });
});

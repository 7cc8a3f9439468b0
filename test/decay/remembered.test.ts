import { describe, expect, it } from 'vitest';
import { remembered } from '../../src/decay/remembered.ts';

describe('a remembered function', () => {
  it('works once for the same object and arguments, and again for others', () => {
    const calls: string[] = [];
    const of = { name: 'a' };
    const other = { name: 'b' };
    const named = remembered(({ name }: { name: string }, n: number, m: number | null) => {
      calls.push(`${name} ${n} ${m}`);
      return `${name} ${n} ${m}`;
    });
    expect([named(of, 1, null), named(of, 1, null), named(other, 1, null), named(of, 1, null)]).toEqual([
      'a 1 null',
      'a 1 null',
      'b 1 null',
      'a 1 null',
    ]);
    expect(calls).toEqual(['a 1 null', 'b 1 null']);
    expect(named(of, 2, null)).toBe('a 2 null');
    expect(named(of, Number.NaN, 0)).toBe('a NaN 0');
    expect(named(of, Number.NaN, 0)).toBe('a NaN 0');
    expect(calls).toEqual(['a 1 null', 'b 1 null', 'a 2 null', 'a NaN 0']);
  });
});

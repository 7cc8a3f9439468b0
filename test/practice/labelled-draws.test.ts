import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sha256Words } from '../../src/practice/digest.ts';
import { drawsFor, noiseSeed } from '../../src/practice/labelled-draws.ts';

function hex(words: Uint32Array): string {
  return [...words].map((word) => word.toString(16).padStart(8, '0')).join('');
}

describe('SHA-256', () => {
  test('of the examples of FIPS 180-2, appendix B', () => {
    // Printed there as words: "abc" and the 448-bit message.
    expect(hex(sha256Words('abc'))).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(hex(sha256Words('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq'))).toBe(
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    );
  });

  test('of any text is that of OpenSSL', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (text) => {
        expect(hex(sha256Words(text))).toBe(createHash('sha256').update(text, 'utf8').digest('hex'));
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe('draws for a label', () => {
  test('are the same for the same seed and label, and others for others', () => {
    const first = (seed: string, label: string) => {
      const draws = drawsFor(seed, label);
      return [draws.between(0, 1), draws.normal(0, 1), draws.index(1000)];
    };
    expect(first('a', 'b')).toEqual(first('a', 'b'));
    expect(first('a', 'b')).not.toEqual(first('a', 'c'));
    expect(first('a', 'b')).not.toEqual(first('b', 'b'));
    // Labels do not run into each other.
    expect(noiseSeed('s', 'ab', 'c')).not.toBe(noiseSeed('s', 'a', 'bc'));
  });

  test('have the moments of what they are drawn from, and no wild values', () => {
    const draws = drawsFor('moments');
    const normals = Array.from({ length: 20_000 }, () => draws.normal(3, 2));
    const mean = normals.reduce((sum, x) => sum + x, 0) / normals.length;
    const variance = normals.reduce((sum, x) => sum + (x - mean) ** 2, 0) / normals.length;
    // Variance of a standard normal that is cut off at ±2.5: 1 - 2·2.5·φ(2.5)/(2Φ(2.5)-1) = 0.9113.
    expect(Math.abs(mean - 3)).toBeLessThan((4 * 2) / Math.sqrt(20_000));
    expect(variance / 4).toBeCloseTo(0.9113, 1);
    expect(Math.max(...normals.map((x) => Math.abs(x - 3)))).toBeLessThanOrEqual(5);
    expect([...draws.shuffled([1, 2, 3, 4, 5])].sort()).toEqual([1, 2, 3, 4, 5]);
    const seen = new Set(Array.from({ length: 200 }, () => draws.index(4)));
    expect([...seen].sort()).toEqual([0, 1, 2, 3]);
  });
});

import fc from 'fast-check';

/** Text of any code points, halves of surrogate pairs among them, with more of the characters that XML minds. */
export const anyText: fc.Arbitrary<string> = fc.string({
  unit: fc.oneof(
    fc.constantFrom('<', '>', '&', '"', "'", ']]>', '\u0000', '\n', '\u202E', '\uD800', ' ', '-', 'x'),
    fc.integer({ min: 0, max: 0x10ffff }).map((code) => String.fromCodePoint(code)),
  ),
  maxLength: 80,
});

import type { Text } from './document.ts';

/** Digits behind the decimal mark of the number that a text begins with, the mark among them; 0 without one. */
function behindMark(text: Text): string {
  const plain = typeof text === 'string' ? text : '';
  return /^[-−+]?\d[\d\u202f ]*([.]\d+)?$/.exec(plain.trim())?.[1] ?? '';
}

/** The longest part behind the decimal mark of a column. */
export function decimalsBehind(column: readonly Text[]): string {
  return column.map(behindMark).reduce((most, one) => (one.length > most.length ? one : most), '');
}

/** What a number lacks to stand at the decimal mark of its column: to be set without being seen. */
export function padded(text: Text, most: string): string {
  if (typeof text !== 'string' || !/\d/.test(text)) return '';
  const own = behindMark(text);
  return own.length >= most.length ? '' : most.slice(own.length).replace(/\d/g, '0');
}

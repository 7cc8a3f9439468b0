/** Submissions in words, as the place shows them. */
import { quantityWords } from '../../../src/class/index.ts';
import type { AskedQuantity, GroupSubmission } from '../../../src/server/contract/index.ts';

type Value = GroupSubmission['rows'][number]['values'][number];

/** How a value stands; nothing for one within the tolerance. */
export const stateWords: Readonly<Record<Value['state'], string>> = {
  within: 'within',
  outside: 'look again',
  follows: 'right, given an earlier value',
  'cannot-tell': 'nothing to hold it against',
};

/** A quantity with a capital, as the name of a row. */
export function quantityName(quantity: AskedQuantity): string {
  const words = quantityWords[quantity];
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** In a line: how the values of a group stand. */
export function summaryWords({ rows }: Pick<GroupSubmission, 'rows'>): string {
  const values = rows.flatMap((row) => row.values);
  const count = (state: Value['state']) => values.filter((one) => one.state === state).length;
  const parts = (
    [
      ['within', 'within the tolerance'],
      ['follows', 'right given an earlier value'],
      ['outside', 'to look at again'],
      ['cannot-tell', 'that nothing here can be held against'],
    ] as const
  ).flatMap(([state, words]) => (count(state) === 0 ? [] : [`${count(state)} ${words}`]));
  if (values.length === 0) return 'The sheet holds no value.';
  return `${values.length} ${values.length === 1 ? 'value' : 'values'}: ${parts.join(', ')}.`;
}

/** What stands in a cell before its unit, so that it can be typed over. */
export function withoutUnit(written: string, unit: string): string {
  const symbol = unit === 'W/(m2 K)' ? 'W/(m² K)' : unit;
  return symbol !== '' && written.endsWith(` ${symbol}`) ? written.slice(0, -symbol.length - 1) : written;
}

import { conditionName, type PredictedCondition } from '../experiment/index.ts';
import type { Remark } from '../remark/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

interface Gathered {
  readonly remark: Remark;
  readonly conditions: readonly string[];
  readonly messages: readonly string[];
}

/** Most conditions that one remark lists. */
const mostNamed = 3;

/** A number that stands by itself: no part of a code such as `brass-12`, and without a sign. */
const numbers = /(?<![\w.-])\d+(?:\.\d+)?/g;

/**
 * Remarks of predictions, one line for those that say the same. Where they differ in their numbers only, the line
 * gives each number from its smallest to its largest; where they differ in words, each has its own.
 */
export function remarkLines(predicted: readonly PredictedCondition[], ink: Ink): string[] {
  const gathered = new Map<string, Gathered>();
  for (const one of predicted) {
    for (const remark of one.ok ? one.prediction.remarks : []) {
      const { severity, code, message, action } = remark;
      const key = JSON.stringify([severity, code, message.replace(numbers, '#'), action]);
      const found = gathered.get(key);
      gathered.set(key, {
        remark,
        conditions: [...(found?.conditions ?? []), conditionName(one.condition)],
        messages: [...(found?.messages ?? []), message],
      });
    }
  }
  return [...gathered.values()].flatMap(({ remark, conditions, messages }) => {
    const more = conditions.length > mostNamed ? ` and ${conditions.length - mostNamed} more` : '';
    const where = `${conditions.slice(0, mostNamed).join(', ')}${more}`;
    const text = `${where}: ${printable(withRanges(messages))} ${printable(remark.action)} [${remark.code}]`;
    const [first = '', ...rest] = entry(remark.severity, text);
    return [
      remark.severity === 'note' ? first : first.replace(remark.severity, ink.warm(remark.severity)),
      ...rest,
    ];
  });
}

/** Messages that differ in their numbers only, as one: `from 271–512 s`. */
function withRanges(messages: readonly string[]): string {
  const [first = ''] = messages;
  const columns = messages.map((message) => message.match(numbers) ?? []);
  let place = -1;
  return first.replace(numbers, () => {
    place += 1;
    const own = columns.map((column) => column[place] ?? '').sort((a, b) => Number(a) - Number(b));
    const [low = '', high = low] = [own[0], own.at(-1)];
    return low === high ? low : `${low}–${high}`;
  });
}

import { type Condition, conditionName } from './conditions.ts';

/** What the order goes by. */
interface Timed {
  readonly condition: Condition;
  readonly timeConstant: { readonly value: number };
}

/**
 * Run order: bodies by their quickest time constant, quick ones first, and each body in all its flows before the next,
 * the strongest flow first. A quick body shows at once whether the rig works, and a slow one that runs late costs only
 * itself (common practice, no source).
 */
export function runOrder<T extends Timed>(conditions: readonly T[]): T[] {
  const quickest = new Map<string, number>();
  for (const { condition, timeConstant } of conditions) {
    const before = quickest.get(condition.body) ?? Number.POSITIVE_INFINITY;
    quickest.set(condition.body, Math.min(before, timeConstant.value));
  }
  const ofBody = ({ condition }: T) => quickest.get(condition.body) ?? Number.POSITIVE_INFINITY;
  return [...conditions].sort((a, b) => {
    return (
      ofBody(a) - ofBody(b) ||
      compareText(a.condition.body, b.condition.body) ||
      a.timeConstant.value - b.timeConstant.value ||
      compareText(conditionName(a.condition), conditionName(b.condition))
    );
  });
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

import { conditionName } from '../../../src/experiment/index.ts';
import { formatSignificant } from '../../../src/quantity/index.ts';
import { minutesUp, type Outcome } from './outcome.ts';

/** Changes of tau below this are not said. */
const worthSaying = 0.002;

/** What the changes do, in a sentence or two: the time that is needed, and the largest change of a time constant. */
export function changeWords(outcome: Outcome | null, before: Outcome | null): string {
  if (outcome === null || before === null) return '';
  const sentences = [largestChange(outcome, before), needed(outcome, before), fitting(outcome, before)];
  const said = sentences.filter((one) => one !== null);
  return said.length === 0 ? 'Neither time constants nor the session change by it.' : said.join(' ');
}

function largestChange(outcome: Outcome, before: Outcome): string | null {
  let largest: { name: string; from: number; to: number } | null = null;
  for (const [name, one] of outcome.predicted) {
    const then = before.predicted.get(name);
    if (!one.ok || then?.ok !== true) continue;
    const from = then.prediction.timeConstant.value;
    const to = one.prediction.timeConstant.value;
    const known = largest === null ? 0 : Math.abs(Math.log(largest.to / largest.from));
    if (Math.abs(Math.log(to / from)) > Math.max(known, worthSaying)) largest = { name, from, to };
  }
  if (largest === null) return null;
  return `tau of ${largest.name} goes from ${formatSignificant(largest.from, 3)} s to ${formatSignificant(largest.to, 3)} s.`;
}

function needed(outcome: Outcome, before: Outcome): string | null {
  const now = minutesUp(outcome.plan.timeLine.needed);
  const then = minutesUp(before.plan.timeLine.needed);
  return now === then ? null : `The session needs ${now}, before ${then}.`;
}

function fitting(outcome: Outcome, before: Outcome): string | null {
  const names = ({ plan }: Outcome) => plan.timeLine.fitting.map(conditionName);
  const now = names(outcome);
  const then = names(before);
  const count = outcome.plan.conditions.length;
  if (now.length === then.length && now.every((name) => then.includes(name))) return null;
  return now.length === count
    ? 'Everything fits.'
    : `${now.length} of ${count} conditions fit, before ${then.length}.`;
}

import { type Condition, conditionName, conditionsOf, type Experiment } from '../experiment/index.ts';
import { OptionError } from './wishes.ts';

/**
 * The conditions that were asked for: all that are measured, or those that the options name. What the file leaves out
 * may be named too.
 *
 * @param asked as typed: `body@flow`, `body_flow`, `body at flow`, or a body
 * @throws OptionError where one cannot be found, or could be two
 */
export function chosenConditions(experiment: Experiment, asked: readonly string[]): readonly Condition[] {
  const { measured, leftOut } = conditionsOf(experiment);
  if (asked.length === 0) return measured;
  const all: readonly Condition[] = [...measured, ...leftOut.map(({ body, flow }) => ({ body, flow }))];
  const chosen = new Map<string, Condition>();
  for (const text of asked) {
    for (const one of conditionsNamed(text, all, measured)) chosen.set(conditionName(one), one);
  }
  return [...chosen.values()];
}

function conditionsNamed(
  text: string,
  all: readonly Condition[],
  measured: readonly Condition[],
): readonly Condition[] {
  const exact = all.filter(({ body, flow }) => {
    return text === `${body}@${flow}` || text === `${body}_${flow}` || text === `${body} at ${flow}`;
  });
  const ofBody = measured.filter(({ body }) => text === body);
  const readings = exact.length + (ofBody.length > 0 ? 1 : 0);
  if (readings > 1) {
    throw new OptionError(`--condition ${text}: could be more than one; write it as body@flow`);
  }
  if (readings === 1) return [...exact, ...ofBody];
  throw new OptionError(
    `--condition ${text}: the experiment file has no such body and flow; it has ${known(all)}`,
  );
}

/** Most conditions that a message lists. */
const mostListed = 12;

function known(all: readonly Condition[]): string {
  if (all.length === 0) return 'none yet: list bodies and flows';
  const listed = all.slice(0, mostListed).map(({ body, flow }) => `${body}@${flow}`);
  const more = all.length > mostListed ? ` and ${all.length - mostListed} more` : '';
  return `${listed.join(', ')}${more}`;
}

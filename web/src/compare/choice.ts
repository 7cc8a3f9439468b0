/** Which conditions and groups are compared, as it stands in the address. */

export interface Choice {
  /** Conditions that are left out, by name. */
  readonly without: readonly string[];
  /** Groups whose recordings count; empty for all. */
  readonly groups: readonly string[];
}

/** Most names that an address holds. */
const most = 500;

export function choiceFrom(search: string): Choice {
  const parameters = new URLSearchParams(search);
  return {
    without: parameters.getAll('without').slice(0, most),
    groups: parameters.getAll('group').slice(0, most),
  };
}

/** The address with another choice; what else stands in it stays. */
export function searchWith(search: string, choice: Choice): string {
  const parameters = new URLSearchParams(search);
  parameters.delete('without');
  parameters.delete('group');
  for (const name of choice.without) parameters.append('without', name);
  for (const group of choice.groups) parameters.append('group', group);
  return parameters.toString();
}

/** A list with a name put in or taken out. */
export function toggled(list: readonly string[], name: string): readonly string[] {
  return list.includes(name) ? list.filter((one) => one !== name) : [...list, name];
}

/**
 * The groups after one was put in or taken out: an empty list stands for all, so that the first one taken out leaves
 * the others, and none of them, or all, means all again.
 */
export function groupsAfter(
  all: readonly string[],
  chosen: readonly string[],
  name: string,
): readonly string[] {
  const next = toggled(chosen.length === 0 ? all : chosen, name).filter((one) => all.includes(one));
  return next.length === all.length ? [] : next;
}

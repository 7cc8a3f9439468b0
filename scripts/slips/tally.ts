import type { Outcome, Tried } from './try-case.ts';

/** How often what was said. */
export type Counts = Readonly<Record<Outcome, number>>;

/** Counts of all cases. */
export interface Tally {
  readonly right: {
    readonly submissions: number;
    /** With a value outside its tolerance, and of those with a slip named. */
    readonly outside: number;
    readonly accused: number;
  };
  readonly single: ReadonlyMap<string, Counts>;
  readonly pairs: Counts;
}

const nothing: Counts = { unseen: 0, first: 0, alike: 0, other: 0, none: 0 };

/** Counts what was said about right work, about each slip, and about two slips at once. */
export function tallyOf(tried: readonly Tried[]): Tally {
  const right = tried.filter(({ slips }) => slips.length === 0);
  const single = new Map<string, Counts>();
  let pairs = nothing;
  for (const { slips, outcome } of tried) {
    const [one] = slips;
    if (slips.length === 1 && one !== undefined) single.set(one, added(single.get(one) ?? nothing, outcome));
    if (slips.length === 2) pairs = added(pairs, outcome);
  }
  return {
    right: {
      submissions: right.length,
      outside: right.filter(({ outcome }) => outcome !== 'unseen').length,
      accused: right.filter(({ named }) => named !== '').length,
    },
    single,
    pairs,
  };
}

function added(counts: Counts, outcome: Outcome): Counts {
  return { ...counts, [outcome]: counts[outcome] + 1 };
}

/** All slips together. */
export function totalOf(all: Iterable<Counts>): Counts {
  let total = nothing;
  for (const counts of all) {
    total = {
      unseen: total.unseen + counts.unseen,
      first: total.first + counts.first,
      alike: total.alike + counts.alike,
      other: total.other + counts.other,
      none: total.none + counts.none,
    };
  }
  return total;
}

/** Part in which the true slip comes first, of the cases in which it shows and can be told from others. */
export function firstShare({ first, other, none }: Counts): number {
  return first / (first + other + none);
}

/**
 * The counts as a table of text.
 *
 * @param order of the slips
 */
export function presentTally({ right, single, pairs }: Tally, order: readonly string[]): string {
  const total = totalOf(single.values());
  const head = ['slip'.padEnd(34), 'within', 'first', 'alike', 'other', 'none'].join('  ');
  const rows = order.flatMap((name) => {
    const counts = single.get(name);
    return counts === undefined ? [] : [row(name, counts)];
  });
  return [
    `right work: ${right.submissions} submissions, ${right.outside} with a value outside its tolerance, ${right.accused} of all with a slip named (${percent(right.accused / right.submissions)})`,
    '',
    'within: no value is outside its tolerance, and nothing is said; first: the true slip is named first; alike: others are,',
    'with the same values within what a class differs by; other: others are, with other values; none: none is named.',
    '',
    head,
    ...rows,
    row('one slip, all', total),
    row('two slips at once', pairs),
    '',
    `one slip that shows and can be told apart: named first in ${percent(firstShare(total))} of ${total.first + total.other + total.none}`,
    `two slips that show and can be told apart: both named first in ${percent(firstShare(pairs))} of ${pairs.first + pairs.other + pairs.none}`,
  ].join('\n');
}

function row(name: string, { unseen, first, alike, other, none }: Counts): string {
  const cells = [unseen, first, alike, other, none].map((count, i) =>
    String(count).padStart(i === 0 ? 6 : i === 4 ? 4 : 5),
  );
  return [name.padEnd(34), ...cells].join('  ');
}

function percent(part: number): string {
  return `${(100 * part).toFixed(1)} %`;
}

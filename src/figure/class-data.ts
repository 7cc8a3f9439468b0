import type { Causes, ConditionSummary } from '../class/index.ts';
import type { CauseOfSpread } from './class-causes.ts';
import type { ConditionStrip } from './class-strip.ts';

/**
 * Conditions of a class as strips.
 *
 * @param nameOf what a group is called; empty where nobody shall know
 */
export function conditionStrips(
  conditions: readonly ConditionSummary[],
  nameOf: (group: string) => string,
): ConditionStrip[] {
  return conditions.map(({ body, flow, location, interval, band, groups }) => ({
    name: `${body} at ${flow}`,
    location,
    interval,
    band,
    groups: groups.map(({ group, timeConstant, interval: own, lookAgain, otherBody }) => ({
      name: nameOf(group),
      value: timeConstant,
      interval: own,
      lookAgain,
      otherBody,
    })),
  }));
}

/** The causes of a class's spread as rows, the residual last. */
export function causesOfSpread({ factors, alike, residual }: Causes): CauseOfSpread[] {
  const rest = 1 - factors.reduce((sum, { share }) => sum + share, 0);
  return [
    ...factors.map(({ factor, deviation, interval, share, levels, shows }) => ({
      name: [factor, ...alike.filter(([kept]) => kept === factor).map(([, same]) => same)].join(' or '),
      deviation,
      interval,
      share,
      levels,
      shows,
    })),
    {
      name: 'trials alike in all of this',
      deviation: residual,
      interval: null,
      share: Math.max(0, rest),
      levels: null,
      shows: false,
    },
  ];
}

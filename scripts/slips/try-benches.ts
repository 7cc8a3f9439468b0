import type { Experiment } from '../../src/experiment/index.ts';
import { type GroupSlipName, groupSlips } from '../../src/practice/group-slips.ts';
import type { Desk } from '../prove/desk.ts';
import { benchOf, type Tried, tryCase } from './try-case.ts';

const conditions = [
  { body: 'brass-12', flow: '120' },
  { body: 'brass-20', flow: '60' },
  { body: 'aluminium-12', flow: '60' },
  { body: 'aluminium-20', flow: '120' },
  { body: 'bare-junction', flow: '120' },
] as const;

/** How many groups hand in right work, one slip, and two, on each recording. */
interface Groups {
  readonly right: number;
  readonly single: number;
  readonly pairs: number;
}

const usualGroups: Groups = { right: 5, single: 12, pairs: 3 };

/**
 * Recordings of the course, each with groups of different habits that hand in what they made of it.
 *
 * @param wanted how many recordings, a seed for everything, and how many groups if not as many as usual
 * @param onDone told after each recording how many are done
 */
export async function tryBenches(
  desk: Desk,
  experiment: Experiment,
  wanted: { readonly benches: number; readonly seed: string; readonly groups?: Groups },
  onDone: (done: number) => void = () => undefined,
): Promise<Tried[]> {
  const { benches, seed, groups = usualGroups } = wanted;
  const isSlip = (name: string): name is GroupSlipName => name in groupSlips;
  const names = Object.keys(groupSlips).filter(isSlip);
  const named = (turn: number) => names[turn % names.length];
  const tried: (Tried | null)[] = [];
  for (let i = 0; i < benches; i++) {
    const condition = conditions[i % conditions.length];
    const bench = condition === undefined ? null : await benchOf(desk, experiment, condition, `${seed} ${i}`);
    onDone(i + 1);
    if (bench === null) continue;
    const hand = (slips: readonly (GroupSlipName | undefined)[], habit: string) => {
      const all = slips.filter((slip) => slip !== undefined);
      tried.push(tryCase(bench, all, `${seed} ${i} ${habit}`));
    };
    for (let k = 0; k < groups.right; k++) hand([], `right ${k}`);
    for (let k = 0; k < groups.single; k++) hand([named(i * groups.single + k)], `single ${k}`);
    for (let k = 0; k < groups.pairs; k++) {
      // Two slips of the list that come together once in many recordings.
      const turn = i * groups.pairs + k;
      hand([named(turn), named(turn * 7 + 11 + Math.floor(turn / names.length))], `pair ${k}`);
    }
  }
  return tried.filter((one) => one !== null);
}

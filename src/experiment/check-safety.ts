import { type ExperimentRemark, placed, shown } from './check-remark.ts';
import type { Experiment } from './schema-keys.ts';

/** Metal that can be held for a minute is below this, °C (common practice). */
const touchable = 50;

/** What to say to the class: notes, for they do not change the numbers. */
export function checkSafety({ protocol, heating, bodies, flows, supply }: Experiment): ExperimentRemark[] {
  const targets = [protocol.target, heating.stream, ...Object.values(bodies).map(({ target }) => target)];
  const hottest = Math.max(...targets.filter((target) => target !== undefined), Number.NEGATIVE_INFINITY);
  const blown = Object.values(flows).some(({ kind }) => kind !== 'still') || supply?.pressure !== undefined;
  const remarks: ExperimentRemark[] = [];
  if (hottest > touchable) {
    remarks.push(
      placed(
        'heat-safety',
        'note',
        heating.stream === undefined ? ['protocol', 'target'] : ['heating', 'stream'],
        `Air or bodies reach ${shown(hottest)} °C, and the mouth of a hot-air tool several hundred more.`,
        'Tell the class: never touch a body before it has cooled, nor point hot air at anyone; keep paper, sleeves and hair away; do not leave the tool alone while it is hot.',
      ),
    );
  }
  if (blown) {
    remarks.push(
      placed(
        'air-safety',
        'note',
        supply?.pressure === undefined ? ['flows'] : ['supply', 'pressure'],
        'An air jet is opened.',
        'Tell the class: wear eye protection, fix the hose, open the valve slowly, never point the jet at skin, and protect the ears where it is loud.',
      ),
    );
  }
  return remarks;
}

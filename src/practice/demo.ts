import type { Condition, Experiment } from '../experiment/index.ts';
import { asBenchesWrite, oneSet, withoutAmplifier, writesDegrees } from './demo-benches.ts';
import { demoReferenceRuns, type ReferenceRuns } from './demo-reference.ts';
import { practiceSet } from './set.ts';
import { type FaultWish, PracticeError, type PracticeSet } from './set-types.ts';

/** Everything in the demo comes from it. */
const demoSeed = 'Thornwick 108';

/** The recordings of an invented course, before they are simulated. */
export interface Demo {
  /** What the groups recorded. */
  readonly course: PracticeSet;
  /** What instructors recorded in earlier terms. */
  readonly reference: ReferenceRuns;
}

/** One section of the course: when it meets, what it measures, what goes wrong. */
interface Section {
  readonly date: string;
  readonly conditions: readonly string[];
  readonly faults: readonly FaultWish[];
}

/**
 * Thirteen of sixty recordings have a fault. Most are seen in the recording itself; exchanged names and a melted
 * adhesive are only found by comparing.
 */
const sections: Readonly<Record<string, Section>> = {
  A: {
    date: '2026-10-05',
    conditions: ['brass-12_120', 'aluminium-12_120', 'brass-20_120', 'aluminium-20_120', 'bare-junction_120'],
    faults: [
      { name: 'stopped-early', group: 'A2' },
      { name: 'baseline-short', group: 'A3' },
      { name: 'jet-changed', group: 'A4' },
      { name: 'swapped', group: 'A2' },
    ],
  },
  B: {
    date: '2026-10-06',
    conditions: ['brass-12_60', 'aluminium-12_60', 'brass-20_60', 'aluminium-20_60', 'bare-junction_120'],
    faults: [
      { name: 'jet-off', group: 'B4' },
      { name: 'clipped', group: 'B3' },
      { name: 'same-file', group: 'B1' },
    ],
  },
  C: {
    date: '2026-10-07',
    conditions: ['brass-12_120', 'brass-12_60', 'aluminium-20_120', 'aluminium-20_60', 'bare-junction_120'],
    faults: [
      { name: 'over-limit', group: 'C1' },
      { name: 'heated-twice', group: 'C2' },
      { name: 'zero-drifted', group: 'C3' },
      { name: 'melted-adhesive', group: 'C4' },
    ],
  },
};

/**
 * The Thornwick demo: three sections of four groups at four benches, each group with five conditions, and the
 * reference runs of two earlier terms. The same experiment file gives the same demo.
 *
 * @param experiment the Thornwick experiment file
 * @throws PracticeError where the file lacks what the demo is made of
 */
export function thornwickDemo(experiment: Experiment): Demo {
  const sets = Object.entries(sections).flatMap(([section, wanted]) => {
    return [false, true].map((degrees) => sectionSet(experiment, section, wanted, degrees));
  });
  return { course: oneSet(sets), reference: demoReferenceRuns(experiment, demoSeed) };
}

/** The groups of a section whose loggers write volts, or the others. */
function sectionSet(
  experiment: Experiment,
  section: string,
  { date, conditions, faults }: Section,
  degrees: boolean,
): PracticeSet {
  const groups = Object.entries(experiment.groups).filter(([, group]) => {
    return group.section === section && writesDegrees(group.bench ?? '') === degrees;
  });
  if (groups.length === 0)
    throw new PracticeError(`The experiment file has no groups of section ${section}.`);
  const codes = groups.map(([code]) => code);
  const set = practiceSet(
    { ...(degrees ? withoutAmplifier(experiment) : experiment), groups: Object.fromEntries(groups) },
    {
      seed: demoSeed,
      groups: null,
      repeats: 1,
      conditions: conditions.map(conditionCalled),
      rate: null,
      faults: faults.filter(({ group }) => group !== null && codes.includes(group)),
      faultShare: 0,
      date,
      exercise: false,
    },
  );
  return asBenchesWrite(set);
}

function conditionCalled(name: string): Condition {
  const [body = '', flow = ''] = name.split('_');
  return { body, flow };
}

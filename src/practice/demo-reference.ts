import type { Experiment } from '../experiment/index.ts';
import type { BenchTrial } from './bench-types.ts';
import { asBenchesWrite, oneSet, withoutAmplifier, writesDegrees } from './demo-benches.ts';
import { roundedDraw } from './labelled-draws.ts';
import { practiceSet } from './set.ts';
import type { PracticeRecording, PracticeSet, TrialInputs } from './set-types.ts';

/** Reference runs of earlier terms, one of each bench and week. */
export interface ReferenceRuns {
  readonly runs: PracticeSet;
  readonly drift: BenchDrift;
}

/** A bench whose heat transfer changes over a term, as a nozzle that clogs makes it. */
interface BenchDrift {
  readonly term: string;
  readonly bench: string;
  /** What the heat transfer coefficient is multiplied by from week to week. */
  readonly factorPerWeek: number;
}

const terms: Readonly<Record<string, string>> = { '2025-autumn': '2025-09-29', '2026-spring': '2026-02-16' };
const weeks = 5;
const condition = { body: 'brass-12', flow: '120' };
/** Hz: enough for a sphere, and the files stay small. */
const rate = 20;
const drift: BenchDrift = { term: '2026-spring', bench: 'bench-2', factorPerWeek: 0.97 };

/**
 * The same trial at every bench in every week of two terms. Rig and benches are those of the course with the same
 * seed.
 *
 * @param experiment the Thornwick experiment file
 */
export function demoReferenceRuns(experiment: Experiment, seed: string): ReferenceRuns {
  const sets = Object.entries(terms).flatMap(([term, date]) => {
    return [false, true].map((degrees) => termSet(experiment, seed, { term, date, degrees }));
  });
  return { runs: oneSet(sets), drift };
}

interface Term {
  readonly term: string;
  readonly date: string;
  readonly degrees: boolean;
}

function termSet(experiment: Experiment, seed: string, { term, date, degrees }: Term): PracticeSet {
  const benches = experiment.benches.filter((bench) => writesDegrees(bench) === degrees);
  const runs = benches.flatMap((bench) => {
    return Array.from({ length: weeks }, (_, i) => ({
      code: runCode(term, bench, i + 1),
      bench,
      week: i + 1,
    }));
  });
  const { recordings: _pattern, ...rest } = degrees ? withoutAmplifier(experiment) : experiment;
  const groups = Object.fromEntries(runs.map(({ code, bench }) => [code, { section: term, bench }]));
  const set = practiceSet(
    { ...rest, sections: [term], groups },
    {
      seed,
      groups: null,
      repeats: 1,
      conditions: [condition],
      rate,
      faults: [],
      faultShare: 0,
      date,
      exercise: false,
    },
  );
  const weekOf = new Map(runs.map(({ code, week }) => [code, week]));
  const recordings = set.recordings.map((recording): PracticeRecording => {
    const { code, bench } = recording.group;
    const week = weekOf.get(code) ?? 1;
    const path = `reference/${term}/${bench}/week-${week}_${condition.body}_${condition.flow}.txt`;
    const drifted = term === drift.term && bench === drift.bench;
    return weakened({ ...recording, path }, drifted ? drift.factorPerWeek ** (week - 1) : 1);
  });
  return asBenchesWrite({ ...set, pattern: 'reference/{section}/{bench}/week-…_{body}_{flow}', recordings });
}

function runCode(term: string, bench: string, week: number): string {
  return `${term}-${bench}-week-${week}`;
}

/** The recording with all convection multiplied by a factor, and as much more time to cool. */
function weakened(recording: PracticeRecording, factor: number): PracticeRecording {
  if (factor === 1) return recording;
  const { source } = recording;
  const { trial, inputs } = source;
  const off = trial.heatings.at(-1)?.to ?? 0;
  const times = (value: number) => roundedDraw(value * factor);
  const slower: BenchTrial = {
    ...trial,
    body: {
      ...trial.body,
      stems: trial.body.stems.map((stem) => ({ ...stem, coefficient: times(stem.coefficient) })),
    },
    air: { ...trial.air, coefficient: times(trial.air.coefficient) },
    length: roundedDraw(off + (trial.length - off) / factor),
  };
  const changed: TrialInputs = {
    ...inputs,
    nusseltMultiplier: times(inputs.nusseltMultiplier),
    convection: times(inputs.convection),
    expectedTimeConstant: roundedDraw(inputs.expectedTimeConstant / factor),
  };
  return { ...recording, source: { ...source, trial: slower, inputs: changed } };
}

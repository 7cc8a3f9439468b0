import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Experiment, experimentTemplate } from '../../src/experiment/index.ts';
import type { PracticeWishes } from '../../src/practice/index.ts';
import { experimentOf } from '../experiment/read.ts';

/** A clean set of everything that the file lists, once, and slow, for tests are many. */
export const plainWishes: PracticeWishes = {
  seed: 'a test',
  groups: null,
  repeats: 1,
  conditions: null,
  rate: 10,
  faults: [],
  faultShare: 0,
  date: '2026-03-02',
  exercise: false,
};

/** The experiment that `emberline new` writes. */
export function templateExperiment(): Experiment {
  return experimentOf(experimentTemplate);
}

export function thornwickExperiment(): Experiment {
  return experimentOf(readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8'));
}

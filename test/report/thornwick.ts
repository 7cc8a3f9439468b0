import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { conditionsOf, planSession, predictCondition } from '../../src/experiment/index.ts';
import { experimentOf } from '../experiment/read.ts';

/** The example course, its predictions and its plan. */
export const experiment = experimentOf(
  readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8'),
);
export const predictions = conditionsOf(experiment).measured.map((one) =>
  predictCondition(experiment, one, 0),
);
export const plan = planSession(experiment, predictions);

/** What documents of it say of where they come from. */
export const origin = { course: 'Thornwick', version: '0.1.0', experimentHash: 'a'.repeat(64) };

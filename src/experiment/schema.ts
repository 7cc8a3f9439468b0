import { crossCheck } from './cross-check.ts';
import { experimentKeys } from './schema-keys.ts';

/** What stands in an `experiment.yaml`: every key by itself, and what has to fit together. */
export const experimentSchema = experimentKeys.superRefine(crossCheck);

import { correlationOfTerms, courseTerms } from '../analysis/index.ts';
import { correlationWords, predictByRig } from '../class/index.ts';
import { conditionsOf, type Experiment } from '../experiment/index.ts';
import type { RigCorrelationView } from './contract/index.ts';

/**
 * The rig's own correlation from what is kept of this and earlier terms, and what it expects of each condition in its
 * range. Conditions whose interval has no upper end are left to theory.
 */
export async function rigCorrelationOf(folder: string, experiment: Experiment): Promise<RigCorrelationView> {
  const found = await correlationOfTerms(await courseTerms(folder, experiment), 'power');
  if (!found.ok) return { ok: false, sentences: [found.message, found.mend], conditions: [] };
  const conditions = conditionsOf(experiment).measured.flatMap((condition) => {
    const predicted = predictByRig(experiment, condition, found);
    if (predicted === null) return [];
    const { value, standardUncertainty, interval } = predicted.timeConstant;
    const [low, high] = interval;
    if (!Number.isFinite(high)) return [];
    const ends: [number, number] = [low, high];
    return [{ ...condition, value, standardUncertainty, interval: ends }];
  });
  return { ok: true, sentences: correlationWords(found, null), conditions };
}

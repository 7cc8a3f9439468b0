import type { RemarkCode, Severity } from '../remark/index.ts';
import { checkConditions } from './check-conditions.ts';
import { checkFlows } from './check-flows.ts';
import type { ExperimentRemark } from './check-remark.ts';
import { checkSafety } from './check-safety.ts';
import { checkTrial } from './check-trial.ts';
import type { Experiment } from './schema-keys.ts';

const weight: Readonly<Record<Severity, number>> = { repeat: 0, caution: 1, note: 2 };

/**
 * What is unusual about an experiment that its file describes: the rig, the conditions, the protocol; and what to
 * say to the class about heat and compressed air. The weightiest first.
 *
 * @param experiment as read from its file
 */
export function checkExperiment(experiment: Experiment): readonly ExperimentRemark[] {
  const all = [
    ...checkTrial(experiment),
    ...checkFlows(experiment),
    ...checkConditions(experiment),
    ...checkSafety(experiment),
  ];
  return all.sort((a, b) => weight[a.severity] - weight[b.severity] || order(a.code, b.code));
}

function order(a: RemarkCode, b: RemarkCode): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

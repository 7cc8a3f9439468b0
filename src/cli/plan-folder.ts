import type { MeasuredFolder } from '../analysis/index.ts';
import { predictByRig } from '../class/index.ts';
import {
  conditionsOf,
  type Experiment,
  type MeasuredCondition,
  planSession,
  predictCondition,
  type SessionPlan,
} from '../experiment/index.ts';
import { readExperimentFile } from '../store/index.ts';
import { measureRecordings } from './compare-recordings.ts';
import { calendarStart, writeCalendar } from './plan-calendar.ts';
import type { PlanCommandOptions } from './plan-command.ts';
import { presentPlan } from './plan-present.ts';
import { rigOutlook } from './rig-outlook.ts';
import { type ExitStatus, inkFor, type Surroundings } from './terminal.ts';

/**
 * The command `plan`.
 *
 * @returns 0, 1 where not everything fits, 2 where something could not be planned
 * @throws Error where the experiment file or an option cannot be used
 */
export async function planFolder(
  folder: string,
  options: PlanCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const { path, experiment } = await readExperimentFile(folder);
  const start = options.ics === undefined ? null : calendarStart(options.start, experiment);
  const predictions = conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0));
  const found = options.measured ? await measureRecordings(folder, experiment, [], surroundings) : null;
  const measured = (found?.measured ?? []).map(({ condition, pooled }) => {
    const { value, standardUncertainty, interval } = pooled;
    return { condition, value, standardUncertainty, interval };
  });
  if (found !== null) reportExcluded(found, surroundings);
  const rig = options.rig ? await rigExpectations(folder, experiment, surroundings) : [];
  const noise = found?.noise ?? null;
  const plan = planSession(experiment, predictions, { measured, rig, ...(noise === null ? {} : { noise }) });
  if (options.ics !== undefined && start !== null)
    await writeCalendar(options.ics, plan, start, experiment, path);
  const { stdout, environment } = surroundings;
  stdout.write(
    options.json
      ? `${JSON.stringify(planAsJson(experiment, plan))}\n`
      : `${presentPlan({ path, experiment, plan }, inkFor(stdout, environment)).join('\n')}\n`,
  );
  if (plan.unplanned.length > 0) return 2;
  return plan.timeLine.notFitting.length > 0 ? 1 : 0;
}

/** What the rig's own correlation expects of the conditions in its range; says why where there is none. */
async function rigExpectations(
  folder: string,
  experiment: Experiment,
  surroundings: Surroundings,
): Promise<MeasuredCondition[]> {
  const { correlation } = await rigOutlook(folder, experiment, surroundings);
  if (!correlation.ok) {
    surroundings.stderr.write(
      `emberline: the plan is by theory: ${correlation.message} ${correlation.mend}\n`,
    );
    return [];
  }
  return conditionsOf(experiment).measured.flatMap((condition) => {
    const predicted = predictByRig(experiment, condition, correlation);
    if (predicted === null) return [];
    const { value, standardUncertainty, interval } = predicted.timeConstant;
    return [{ condition, value, standardUncertainty, interval }];
  });
}

/** Recordings that do not count are named by `compare`; here it is said that there are some. */
function reportExcluded({ recordings, asked }: MeasuredFolder, { stderr }: Surroundings): void {
  const excluded = recordings.filter((one) => one.excluded !== null).length + asked.length;
  if (recordings.length === 0 && asked.length === 0) {
    stderr.write('emberline: no recordings were found; the plan is by theory\n');
  } else if (excluded > 0) {
    stderr.write(
      `emberline: ${excluded} ${excluded === 1 ? 'recording does' : 'recordings do'} not count; emberline compare says why\n`,
    );
  }
}

/** A plan as programs read it: SI, times in s from the first minute; null where something has no upper end. */
function planAsJson(experiment: Experiment, plan: SessionPlan) {
  return { course: experiment.course ?? null, start: experiment.session.start ?? null, ...plan };
}

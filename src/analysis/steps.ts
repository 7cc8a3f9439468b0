import { type Condition, type Experiment, entryOf } from '../experiment/index.ts';
import type { AnalysisRequest, AnalyzedFile } from './analyze-file.ts';
import { chainFor } from './sensor.ts';
import { errorFractionStep, pointStep, regressionStep } from './steps-classroom.ts';
import { adequacyStep, budgetStep, fitStep, noiseStep } from './steps-fit.ts';
import { setFormulas } from './steps-mathml.ts';
import { predictionSteps } from './steps-prediction.ts';
import { ambientStep, coolingStep, readingStep } from './steps-reading.ts';
import type { WorkedSteps, WrittenStep } from './steps-types.ts';

/** What is worked through. */
export interface StepsInput {
  /** From the experiment folder. */
  readonly path: string;
  readonly analyzed: AnalyzedFile;
  /** What the analysis was asked for: the steps are those of the same settings and marks. */
  readonly request: Pick<AnalysisRequest, 'chain' | 'settings' | 'zero'>;
  readonly experiment: Experiment | null;
  /** Null leaves the prediction out. */
  readonly condition: Condition | null;
  /** Significant figures of an uncertainty; as the experiment says, or 2, where left out. */
  readonly figures?: 1 | 2;
}

/**
 * One recording worked through: every step of its analysis with the formula and this recording's numbers in it, to be
 * shown to a class and checked by hand. Numbers are those of the analysis; nothing is fitted again.
 */
export async function workedSteps(input: StepsInput): Promise<WorkedSteps> {
  return { path: input.path, steps: await setFormulas(writtenSteps(input)) };
}

/** The steps before their formulas are set. A recording without a time constant ends with what stands in the way. */
export function writtenSteps(input: StepsInput): WrittenStep[] {
  const { analyzed, request, experiment, condition } = input;
  const { trace, decay } = analyzed;
  const { settings } = request;
  const { taught, fit, timeConstant } = decay;
  const quoting = { figures: input.figures ?? experiment?.report['uncertainty-figures'] ?? 2 };
  const recording =
    analyzed.recording.channel.unit === null && request.chain.resistance !== null
      ? { ...analyzed.recording, channel: { ...analyzed.recording.channel, unit: 'ohm' as const } }
      : analyzed.recording;
  const steps: (WrittenStep | null)[] = [
    readingStep(recording, trace, chainFor(recording, request.chain, request.zero)),
    ambientStep(decay, settings, quoting),
    coolingStep(decay),
  ];
  if (taught !== null) {
    steps.push(
      errorFractionStep(trace, taught, settings),
      pointStep(decay, taught, quoting),
      regressionStep(decay, taught, settings, 'origin', quoting),
      regressionStep(decay, taught, settings, 'intercept', quoting),
    );
  }
  if (fit !== null && timeConstant !== null) {
    steps.push(
      fitStep(fit),
      noiseStep(decay, trace),
      budgetStep(decay, timeConstant, quoting),
      adequacyStep(decay),
    );
  } else {
    steps.push(withoutResult(decay.remarks.filter(({ severity }) => severity === 'repeat')));
  }
  if (experiment !== null && condition !== null && known(experiment, condition)) {
    steps.push(...predictionSteps(experiment, condition, decay, quoting));
  }
  return steps.filter((step) => step !== null);
}

function known({ bodies, flows }: Experiment, { body, flow }: Condition): boolean {
  return entryOf(bodies, body) !== undefined && entryOf(flows, flow) !== undefined;
}

function withoutResult(remarks: readonly { message: string; action: string }[]): WrittenStep {
  return {
    id: 'no-time-constant',
    title: 'No time constant',
    text: remarks.map(({ message, action }) => `${message} ${action}`),
    formulas: [],
    table: null,
    result: 'This recording cannot carry a time constant.',
    source: null,
  };
}

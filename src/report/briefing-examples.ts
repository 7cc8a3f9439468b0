import {
  experimentDecaySettings,
  readOptionsFor,
  recordingInDegrees,
  SensorError,
  sensorSettings,
  traceFigureData,
} from '../analysis/index.ts';
import { analyzeDecay, type Verdict } from '../decay/index.ts';
import { type Condition, conditionName, type Experiment, type SessionPlan } from '../experiment/index.ts';
import type { TraceFigureData } from '../figure/index.ts';
import {
  type FaultName,
  PracticeError,
  practiceSet,
  recordingBytes,
  simulateRecording,
} from '../practice/index.ts';
import { createReader, RecordingError } from '../recording/index.ts';
import { ChainError } from '../sensing/index.ts';
import type { BriefingExample, BriefingExamples } from './briefing-types.ts';

/** What is thrown where the experiment file does not allow a recording, or not this fault. */
const tooLittleSaid = [PracticeError, SensorError, ChainError, RecordingError, RangeError];

/** What a class sees most, in words for the projector. */
const slips: readonly { readonly fault: FaultName; readonly title: string; readonly seen: string }[] = [
  {
    fault: 'stopped-early',
    title: 'Stopped too early',
    seen: 'The end of the decay is missing: where it would have come to rest is guessed, and the time constant with it. Let it run to the end fraction.',
  },
  {
    fault: 'jet-changed',
    title: 'The jet changed',
    seen: 'A bend in ln of the error fraction: before it and after it the body cooled at different rates. Hands off valve, hose and stand until the trial is over.',
  },
  {
    fault: 'baseline-short',
    title: 'No baseline',
    seen: 'Heated at once: the temperature of the air that everything is counted from was hardly measured. Log the baseline first.',
  },
];

/**
 * Practice recordings of the experiment's own rig: a good one, and ones in which something went wrong. They are
 * simulated and marked so; the same experiment gives the same recordings. Where the file says too little, there are
 * fewer, or none.
 */
export function practiceExamples(experiment: Experiment, plan: SessionPlan): BriefingExamples {
  const condition = middleCondition(plan);
  if (condition === null) return { good: null, wrong: [] };
  const good = firstSeen(experiment, condition, null, ['usable']);
  const wrong = slips.flatMap(({ fault, title, seen }): BriefingExample[] => {
    const figure = firstSeen(experiment, condition, fault, ['repeat', 'usable-with-remarks']);
    return figure === null ? [] : [{ title, seen, figure, practice: true }];
  });
  return {
    good:
      good === null
        ? null
        : {
            title: 'A good recording',
            seen: 'A baseline at rest, a heating, a clean turn when the heat goes off, and a decay that is left alone to its end: ln of the error fraction is a straight line.',
            figure: good,
            practice: true,
          },
    wrong,
  };
}

/** The condition in the middle of the expected time constants. */
export function middleCondition({ conditions }: SessionPlan): Condition | null {
  const sorted = conditions.toSorted((a, b) => a.timeConstant.value - b.timeConstant.value);
  return sorted[Math.floor((sorted.length - 1) / 2)]?.condition ?? null;
}

/**
 * Draws until a recording shows what it is to show: a fault may be drawn so small that nobody would see it.
 *
 * @param wanted verdicts that will do, the best first
 */
function firstSeen(
  experiment: Experiment,
  condition: Condition,
  fault: FaultName | null,
  wanted: readonly Verdict[],
) {
  const made: { figure: TraceFigureData; verdict: Verdict }[] = [];
  for (let attempt = 1; attempt <= mostAttempts; attempt++) {
    const one = practiceRecording(experiment, condition, fault, `briefing ${attempt}`);
    if (one === null) return null;
    if (one.verdict === wanted[0]) return one.figure;
    made.push(one);
  }
  return made.find(({ verdict }) => wanted.includes(verdict))?.figure ?? null;
}

const mostAttempts = 4;
/** Readings a second that are enough for a figure. */
const figureRate = 20;

/** One recording, from the trial through the logger's file to the figure; null where the experiment does not allow it. */
function practiceRecording(
  experiment: Experiment,
  condition: Condition,
  fault: FaultName | null,
  seed: string,
) {
  try {
    const { recordings } = practiceSet(experiment, {
      seed,
      groups: 1,
      repeats: 1,
      conditions: [condition],
      rate: Math.min(experiment.logger?.rate ?? figureRate, figureRate),
      faults: fault === null ? [] : [{ name: fault, group: null }],
      faultShare: 0,
      date: '2026-01-05',
      exercise: false,
    });
    const trial = recordings[0]?.source.trial;
    if (trial === undefined) return null;
    const request = { read: {}, chain: sensorSettings(experiment), zero: null };
    const reader = createReader(readOptionsFor(request));
    for (const bytes of recordingBytes(simulateRecording(trial))) reader.push(bytes);
    const { recording, trace } = recordingInDegrees(reader.finish(), request);
    const decay = analyzeDecay(trace, experimentDecaySettings(experiment, condition.body));
    const name = `practice recording, ${conditionName(condition)}`;
    return {
      figure: traceFigureData({ recording: { ...recording, name }, trace, decay }),
      verdict: decay.verdict,
    };
  } catch (error) {
    if (tooLittleSaid.some((kind) => error instanceof kind)) return null;
    throw error;
  }
}

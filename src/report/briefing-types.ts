import type { RecordingDetail } from '../analysis/index.ts';
import type { Experiment, PredictedCondition, SessionPlan } from '../experiment/index.ts';
import type { TraceFigureData } from '../figure/index.ts';
import type { Block, Text } from './document.ts';
import type { Origin } from './origin.ts';

/** Parts of a briefing in their order; an own file in `briefing/` has one of these names and the ending .md. */
export const briefingParts = [
  'set-up',
  'cautions',
  'settings',
  'conditions',
  'run-order',
  'watch',
  'recordings',
  'theory',
  'analysis',
] as const;

export type BriefingPart = (typeof briefingParts)[number];

/** A recording to be shown: what is to be seen in it, and whether it was made up. */
export interface BriefingExample {
  readonly title: string;
  readonly seen: Text;
  readonly figure: TraceFigureData;
  readonly practice: boolean;
}

export interface BriefingExamples {
  readonly good: BriefingExample | null;
  readonly wrong: readonly BriefingExample[];
}

/** What a briefing is made from. */
export interface BriefingInput {
  readonly experiment: Experiment;
  readonly plan: SessionPlan;
  /** Of the conditions that are measured. */
  readonly predictions: readonly PredictedCondition[];
  readonly examples: BriefingExamples;
  /** The instructor's own words and pictures, part by part. */
  readonly own: ReadonlyMap<BriefingPart, readonly Block[]>;
  readonly origin: Origin;
}

/** A recording of the folder as the good one: a reference run, say. */
export function recordedExample({ figure }: RecordingDetail): BriefingExample {
  return {
    title: 'A good recording',
    seen: 'A baseline at rest, a heating, a clean turn when the heat goes off, and a decay that is left alone to its end: ln of the error fraction is a straight line.',
    figure,
    practice: false,
  };
}

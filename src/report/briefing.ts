import { traceFigure } from '../figure/index.ts';
import { usualCoverage } from '../quantity/index.ts';
import {
  cautionBlocks,
  conditionBlocks,
  flowWords,
  runOrderBlocks,
  settingBlocks,
  setUpBlocks,
  watchBlocks,
} from './briefing-bench.ts';
import { analysisBlocks, theoryBlocks } from './briefing-theory.ts';
import {
  type BriefingExample,
  type BriefingInput,
  type BriefingPart,
  briefingParts,
} from './briefing-types.ts';
import type { Block, Report } from './document.ts';
import { drawing, drawingBoard, paperTheme } from './drawings.ts';
import { madeBy } from './origin.ts';
import { documentSettings } from './settings.ts';
import { type Quoting, quotedResult } from './values.ts';

const titles: Readonly<Record<BriefingPart, string>> = {
  'set-up': 'The set-up',
  cautions: 'Take care',
  settings: 'Settings',
  conditions: 'What is run',
  'run-order': 'Run order',
  watch: 'What to wait for and watch',
  recordings: 'A good recording, and what goes wrong',
  theory: 'Theory',
  analysis: 'The analysis, step by step',
};

const makers: Readonly<Record<BriefingPart, (input: BriefingInput) => Block[]>> = {
  'set-up': setUpBlocks,
  cautions: cautionBlocks,
  settings: settingBlocks,
  conditions: conditionBlocks,
  'run-order': runOrderBlocks,
  watch: watchBlocks,
  recordings: recordingBlocks,
  theory: theoryBlocks,
  analysis: analysisBlocks,
};

/**
 * What an instructor tells a section before it starts, made from the experiment file and the plan, with the
 * instructor's own words at the end of each part. As a hand-out it is set like any document; `slidesHtml` shows it.
 */
export function briefing(input: BriefingInput): Report {
  const { origin, own } = input;
  return {
    title: 'Before you start',
    subtitle: origin.course,
    foot: madeBy(origin, null),
    density: 'usual',
    blocks: [
      glance(input),
      ...briefingParts.flatMap((part): Block[] => {
        const made = [...makers[part](input), ...(own.get(part) ?? [])];
        return made.length === 0 ? [] : [{ kind: 'heading', level: 1, text: titles[part] }, ...made];
      }),
    ],
  };
}

/** The session in four lines. */
function glance({ experiment, plan: { timeLine, length } }: BriefingInput): Block {
  const { repeats } = experiment.protocol;
  const bodies = new Set(timeLine.fitting.map(({ body }) => body));
  const flows = new Set(timeLine.fitting.map(({ flow }) => flow));
  const minutes = (seconds: number) => `${Math.round(seconds / 60)} min`;
  return {
    kind: 'facts',
    rows: [
      ['bodies', [...bodies].join(', ')],
      ['flows', [...flows].map((flow) => flowWords(experiment, flow)).join(', ')],
      [
        'trials',
        `${timeLine.fitting.length * repeats}: ${timeLine.fitting.length} conditions, ${repeats} each`,
      ],
      [
        'time',
        `${minutes(timeLine.end)} to the end of the last trial${length === null ? '' : `, of ${minutes(length)}`}`,
      ],
    ],
  };
}

function recordingBlocks({ examples: { good, wrong }, experiment }: BriefingInput): Block[] {
  const { quoting } = documentSettings(experiment);
  return [...(good === null ? [] : [good]), ...wrong].flatMap((example) => exampleBlocks(example, quoting));
}

function exampleBlocks({ title, seen, figure, practice }: BriefingExample, quoting: Quoting): Block[] {
  const { timeConstant } = figure;
  const headline =
    timeConstant === null
      ? figure.headline
      : `Time constant ${quotedResult(timeConstant, usualCoverage, quoting)}`;
  const drawn = traceFigure(
    { ...figure, headline, remarks: [] },
    {
      document: drawingBoard(),
      theme: paperTheme,
      width: 560,
      notes: 'numbers',
      heading: false,
    },
  );
  const origin = practice ? 'Simulated with this rig’s numbers.' : `Recorded: ${figure.name}.`;
  return [
    { kind: 'heading', level: 2, text: title },
    {
      kind: 'figure',
      figure: drawing(drawn, `${headline}; ${figure.verdict}. ${origin}`, null, 0.65),
    },
    { kind: 'paragraph', text: seen },
  ];
}

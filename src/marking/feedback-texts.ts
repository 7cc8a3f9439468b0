/** A text of the feedback: its file in `feedback/`, what fills it in, and its words until an instructor has others. */
export interface FeedbackText {
  /** Name without the ending `.md`. */
  readonly name: FeedbackName;
  /** Places that are filled in, with what stands there. */
  readonly places: Readonly<Record<string, string>>;
  readonly usual: string;
}

/** Every text that feedback is put together from. */
export type FeedbackName =
  | 'feedback'
  | 'recording'
  | 'within'
  | 'outside'
  | 'follows'
  | 'cannot-tell'
  | 'not-handed-in'
  | 'criterion';

const ofValue = {
  quantity: 'what was handed in, as "the time constant at 36.8 %"',
  submitted: 'the value as it was handed in',
  recomputed: 'the value that comes from the same recording or condition',
  difference: 'submitted less recomputed, in percent of what the tolerance names',
  tolerance: 'the tolerance',
};

/** The texts of the feedback, the whole first. */
export const feedbackTexts: readonly FeedbackText[] = [
  {
    name: 'feedback',
    places: {
      course: 'name of the course',
      group: 'code of the group',
      summary: 'how many values are within the tolerance, and how many are to look at again',
      recordings: 'the text "recording" for each row that was handed in',
      missing: 'the text "not-handed-in" for the recordings and conditions that lack something',
      rubric: 'the text "criterion" for each criterion of the rubric',
    },
    usual: `# {course}: group {group}

{summary}

{recordings}

{missing}

{rubric}

Each value was worked out once more from your own recording. Where one is to be looked at again, bring your working along.
`,
  },
  {
    name: 'recording',
    places: {
      recording: 'path of the recording, or the condition',
      values: 'a text for each value: "within", "outside", "follows" or "cannot-tell"',
      explanation: 'what would give the values that are outside, in a sentence or two',
      advice: 'the texts slip-<code>.md of the slips of that explanation, where you have written any',
      trouble: 'why the recording cannot be held against, where it cannot',
    },
    usual: `## {recording}

{trouble}

{values}

{explanation}

{advice}
`,
  },
  {
    name: 'within',
    places: ofValue,
    usual: '- {quantity}: {submitted}. It agrees with {recomputed}.\n',
  },
  {
    name: 'outside',
    places: ofValue,
    usual:
      '- {quantity}: {submitted}. **Look again**: the same data give {recomputed}; yours is off by {difference}, the tolerance is {tolerance}.\n',
  },
  {
    name: 'follows',
    places: ofValue,
    usual:
      '- {quantity}: {submitted}. Right, given the value before it; the same data give {recomputed} without that.\n',
  },
  {
    name: 'cannot-tell',
    places: { quantity: ofValue.quantity, submitted: ofValue.submitted },
    usual: '- {quantity}: {submitted}. There is nothing here to hold it against.\n',
  },
  {
    name: 'not-handed-in',
    places: { about: 'recordings or conditions', quantities: 'what is missing of each' },
    usual: '- Not handed in for {about}: {quantities}.\n',
  },
  {
    name: 'criterion',
    places: { code: 'code of the criterion', points: 'most points', words: 'what earns them' },
    usual: '- {words} (up to {points})\n',
  },
];

/** What stands in front of the code of a slip in the name of a text of the instructor's own. */
export const slipTextPrefix = 'slip-';

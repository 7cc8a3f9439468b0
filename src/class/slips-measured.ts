import { choosing, type Slip } from './hypotheses.ts';
import type { MeasuredChoices, MeasuredFacts } from './measured-facts.ts';
import type { StudentChoices, UncertaintyChoices } from './student-choices.ts';

type MeasuredSlip = Slip<MeasuredChoices, MeasuredFacts>;

function working(change: Partial<StudentChoices>): MeasuredSlip['apply'] {
  const choose = choosing(change);
  return (choices) => {
    const made = choose(choices.working);
    return made === null ? null : { ...choices, working: made };
  };
}

function uncertainty(change: Partial<UncertaintyChoices>): MeasuredSlip['apply'] {
  const choose = choosing(change);
  return (choices) => {
    // What a budget comes to is not worked from a slope.
    const made =
      choices.uncertainty.from === 'budget' && change.of !== undefined ? null : choose(choices.uncertainty);
    return made === null ? null : { ...choices, uncertainty: made };
  };
}

const needsVolts =
  (change: Partial<StudentChoices>): MeasuredSlip['apply'] =>
  (choices, facts) =>
    facts.recording.volts === null ? null : working(change)(choices, facts);

const otherTypes = ['E', 'J', 'K', 'N', 'T'] as const;
/** Every how many readings one is usually kept. */
const thinnings = [2, 5, 20, 50, 100] as const;

/** What goes wrong between a recording and its time constant, the most usual first. */
export const measuredSlips: readonly MeasuredSlip[] = [
  {
    code: 'ambient-not-subtracted',
    words: 'the ambient was not subtracted: T/T₀ in °C was taken for the error fraction',
    odds: 0.08,
    apply: working({ ambient: 'none' }),
  },
  {
    code: 'ambient-not-subtracted-fahrenheit',
    words: 'the ambient was not subtracted: T/T₀ in °F was taken for the error fraction',
    odds: 0.01,
    apply: working({ ambient: 'none', scale: { kind: 'fahrenheit' } }),
  },
  {
    code: 'ambient-not-subtracted-kelvin',
    words: 'the ambient was not subtracted: T/T₀ in K was taken for the error fraction',
    odds: 0.04,
    apply: working({ ambient: 'none', scale: { kind: 'kelvin' } }),
  },
  {
    code: 'ambient-last-reading',
    words: 'the last reading was taken as the ambient',
    odds: 0.06,
    apply: working({ ambient: 'last' }),
  },
  {
    code: 'ambient-of-the-room',
    words: 'the ambient was typed from a thermometer in the room',
    odds: 0.05,
    apply: (choices, facts) =>
      facts.recording.room === null ? null : working({ ambient: 'room' })(choices, facts),
  },
  {
    code: 'clock-from-file',
    words: 'time was counted from the start of the file',
    odds: 0.08,
    apply: working({ clock: 'file' }),
  },
  {
    code: 'clock-from-heating',
    words: 'time was counted from the start of the heating',
    odds: 0.04,
    apply: working({ clock: 'heating' }),
  },
  {
    code: 'heating-kept',
    words: 'the heating was left among the readings',
    odds: 0.03,
    apply: working({ heatingKept: true, clock: 'heating' }),
  },
  {
    code: 'spike-as-start',
    words: 'a single high reading was taken as the start temperature',
    odds: 0.03,
    apply: (choices, facts) =>
      facts.recording.highest > facts.recording.start.temperature
        ? working({ start: 'spike' })(choices, facts)
        : null,
  },
  {
    code: 'complement-level',
    words: 'the time at 63.2 % left was read in place of 36.8 %',
    odds: 0.06,
    apply: working({ level: 1 - Math.exp(-1) }),
  },
  { code: 'half-level', words: 'the time at 50 % was read', odds: 0.03, apply: working({ level: 0.5 }) },
  { code: 'tenth-level', words: 'the time at 10 % was read', odds: 0.02, apply: working({ level: 0.1 }) },
  {
    code: 'base-ten',
    words: 'the logarithm to base ten was taken in place of the natural one',
    odds: 0.08,
    apply: working({ logarithm: 'base-ten' }),
  },
  {
    code: 'slope-reported',
    words: 'the slope was reported in place of −1/slope',
    odds: 0.06,
    apply: working({ report: 'slope' }),
  },
  {
    code: 'sign-dropped',
    words: 'the sign of −1/slope was dropped',
    odds: 0.03,
    apply: working({ signKept: true }),
  },
  {
    code: 'complement-logged',
    words: 'the logarithm of the fraction of the change was taken, not of what is left',
    odds: 0.03,
    apply: working({ complement: true }),
  },
  {
    code: 'slope-rounded',
    words: 'the slope was taken with two decimals, as the chart shows it',
    odds: 0.05,
    apply: working({ slopeDecimals: 2 }),
  },
  {
    code: 'readings-as-seconds',
    words: 'numbers of readings were taken for seconds',
    odds: 0.06,
    apply: (choices, facts) => working({ secondIs: facts.recording.rate })(choices, facts),
  },
  {
    code: 'milliseconds',
    words: 'milliseconds were taken for seconds',
    odds: 0.03,
    apply: working({ secondIs: 1000 }),
  },
  {
    code: 'minutes',
    words: 'minutes were taken for seconds',
    odds: 0.03,
    apply: working({ secondIs: 1 / 60 }),
  },
  {
    code: 'rate-tenfold',
    words: 'time runs ten times too fast',
    odds: 0.02,
    apply: working({ secondIs: 10 }),
  },
  {
    code: 'rate-tenth',
    words: 'time runs ten times too slowly',
    odds: 0.02,
    apply: working({ secondIs: 0.1 }),
  },
  {
    code: 'no-window',
    words: 'all readings were fitted, not those of the window alone',
    odds: 0.08,
    apply: working({ window: 'none' }),
  },
  {
    code: 'volts-as-degrees',
    words: 'volts were worked with in place of temperatures',
    odds: 0.04,
    apply: needsVolts({ scale: { kind: 'volts' } }),
  },
  ...otherTypes.map(
    (type): MeasuredSlip => ({
      code: `decoded-as-${type.toLowerCase()}`,
      words: `volts were turned into degrees by the table of type ${type}`,
      odds: 0.02,
      apply: needsVolts({ scale: { kind: 'other-type', type } }),
    }),
  ),
  ...thinnings.map(
    (every): MeasuredSlip => ({
      code: `thinned-by-${every}`,
      words: `one reading in ${every} was kept, but time was counted as if it were every reading`,
      odds: 0.005,
      apply: working({ secondIs: 1 / every }),
    }),
  ),
  {
    code: 'uncertainty-of-slope',
    words: 'the uncertainty of the slope was given for that of the time constant, τ² times it',
    odds: 0.08,
    apply: uncertainty({ of: 'slope' }),
  },
  {
    code: 'not-expanded',
    words: "the standard uncertainty was not multiplied by Student's t for its 95 %",
    odds: 0.08,
    apply: uncertainty({ expandedBy: 'nothing' }),
  },
  {
    code: 'expanded-as-standard',
    words: 'the expanded uncertainty was given as the standard one',
    odds: 0.05,
    apply: uncertainty({ standardIs: 'expanded' }),
  },
];

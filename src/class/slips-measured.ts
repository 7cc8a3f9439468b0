import type { StudentRecording } from './student.ts';
import type { StudentChoices } from './student-choices.ts';

/** A slip in working with a recording, and the calculation that it makes. */
export interface MeasurementSlip {
  readonly code: string;
  /** What was done, as the end of a sentence: 'the logarithm to base ten was taken'. */
  readonly words: string;
  /** How often it is seen beside a right calculation, as odds (common practice, no source). */
  readonly odds: number;
  /** @returns null where this recording cannot be worked in that way, or where it changes nothing */
  readonly apply: (choices: StudentChoices, recording: StudentRecording) => StudentChoices | null;
}

function changing(change: Partial<StudentChoices>): MeasurementSlip['apply'] {
  return (choices) => {
    // Two slips about one and the same choice cannot both be made.
    const entries = Object.entries(change);
    return entries.every(([key, value]) => sameChoice(choices, key, value))
      ? null
      : { ...choices, ...change };
  };
}

function sameChoice(choices: StudentChoices, key: string, value: unknown): boolean {
  const own = Object.entries(choices).find(([name]) => name === key)?.[1];
  return JSON.stringify(own) === JSON.stringify(value);
}

const needsVolts =
  (change: Partial<StudentChoices>): MeasurementSlip['apply'] =>
  (choices, recording) =>
    recording.volts === null ? null : changing(change)(choices, recording);

const otherTypes = ['E', 'J', 'K', 'N', 'T'] as const;

/** What goes wrong between a recording and its time constant, the most usual first. */
export const measurementSlips: readonly MeasurementSlip[] = [
  {
    code: 'ambient-not-subtracted',
    words: 'the ambient was not subtracted: T/T₀ in °C was taken for the error fraction',
    odds: 0.08,
    apply: changing({ ambient: 'none' }),
  },
  {
    code: 'ambient-not-subtracted-fahrenheit',
    words: 'the ambient was not subtracted: T/T₀ in °F was taken for the error fraction',
    odds: 0.01,
    apply: changing({ ambient: 'none', scale: { kind: 'fahrenheit' } }),
  },
  {
    code: 'ambient-not-subtracted-kelvin',
    words: 'the ambient was not subtracted: T/T₀ in K was taken for the error fraction',
    odds: 0.04,
    apply: changing({ ambient: 'none', scale: { kind: 'kelvin' } }),
  },
  {
    code: 'ambient-last-reading',
    words: 'the last reading was taken as the ambient',
    odds: 0.06,
    apply: changing({ ambient: 'last' }),
  },
  {
    code: 'ambient-of-the-room',
    words: 'the ambient was typed from a thermometer in the room',
    odds: 0.05,
    apply: (choices, recording) =>
      recording.room === null ? null : changing({ ambient: 'room' })(choices, recording),
  },
  {
    code: 'clock-from-file',
    words: 'time was counted from the start of the file',
    odds: 0.08,
    apply: changing({ clock: 'file' }),
  },
  {
    code: 'clock-from-heating',
    words: 'time was counted from the start of the heating',
    odds: 0.04,
    apply: changing({ clock: 'heating' }),
  },
  {
    code: 'heating-kept',
    words: 'the heating was left among the readings',
    odds: 0.03,
    apply: changing({ heatingKept: true, clock: 'heating' }),
  },
  {
    code: 'spike-as-start',
    words: 'a single high reading was taken as the start temperature',
    odds: 0.03,
    apply: (choices, recording) =>
      recording.highest > recording.start.temperature
        ? changing({ start: 'spike' })(choices, recording)
        : null,
  },
  {
    code: 'complement-level',
    words: 'the time at 63.2 % left was read in place of 36.8 %',
    odds: 0.06,
    apply: changing({ level: 1 - Math.exp(-1) }),
  },
  { code: 'half-level', words: 'the time at 50 % was read', odds: 0.03, apply: changing({ level: 0.5 }) },
  { code: 'tenth-level', words: 'the time at 10 % was read', odds: 0.02, apply: changing({ level: 0.1 }) },
  {
    code: 'base-ten',
    words: 'the logarithm to base ten was taken in place of the natural one',
    odds: 0.08,
    apply: changing({ logarithm: 'base-ten' }),
  },
  {
    code: 'slope-reported',
    words: 'the slope was reported in place of −1/slope',
    odds: 0.06,
    apply: changing({ report: 'slope' }),
  },
  {
    code: 'slope-rounded',
    words: 'the slope was taken with two decimals, as the chart shows it',
    odds: 0.05,
    apply: changing({ slopeDecimals: 2 }),
  },
  {
    code: 'readings-as-seconds',
    words: 'numbers of readings were taken for seconds',
    odds: 0.06,
    apply: (choices, recording) => changing({ secondIs: recording.rate })(choices, recording),
  },
  {
    code: 'milliseconds',
    words: 'milliseconds were taken for seconds',
    odds: 0.03,
    apply: changing({ secondIs: 1000 }),
  },
  {
    code: 'minutes',
    words: 'minutes were taken for seconds',
    odds: 0.03,
    apply: changing({ secondIs: 1 / 60 }),
  },
  {
    code: 'rate-tenfold',
    words: 'time runs ten times too fast',
    odds: 0.02,
    apply: changing({ secondIs: 10 }),
  },
  {
    code: 'rate-tenth',
    words: 'time runs ten times too slowly',
    odds: 0.02,
    apply: changing({ secondIs: 0.1 }),
  },
  {
    code: 'no-window',
    words: 'all readings were fitted, not those of the window alone',
    odds: 0.08,
    apply: changing({ window: 'none' }),
  },
  {
    code: 'volts-as-degrees',
    words: 'volts were worked with in place of temperatures',
    odds: 0.04,
    apply: needsVolts({ scale: { kind: 'volts' } }),
  },
  ...otherTypes.map(
    (type): MeasurementSlip => ({
      code: `decoded-as-${type.toLowerCase()}`,
      words: `volts were turned into degrees by the table of type ${type}`,
      odds: 0.02,
      apply: needsVolts({ scale: { kind: 'other-type', type } }),
    }),
  ),
];

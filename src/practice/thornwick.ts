import type { LoggerText } from './text.ts';
import { plainTrial, type TrialSettings } from './trial.ts';

/** One recording of the invented Thornwick course: the trial, and how the logger of that bench writes it. */
export interface ThornwickRecording {
  /** Path below the folder of recordings. */
  readonly path: string;
  readonly trial: TrialSettings;
  readonly text: LoggerText;
  readonly encoding: 'utf-8' | 'latin-1';
  /**
   * What the logger was given: degrees, or the voltage of a type T junction against an ice point behind an
   * amplifier, as volts = zero + gain × emf.
   */
  readonly logged:
    | { readonly kind: 'degrees' }
    | { readonly kind: 'volts'; readonly gain: number; readonly zero: number };
}

const degrees = { kind: 'degrees' } as const;
const amplified = { kind: 'volts', gain: 200, zero: 0.0013 } as const;

const turbulent = { correlatedNoise: 0.15, correlationTime: 0.4, whiteNoise: 0.06 };

/** Bench 1 logs amplified volts, tab separated, with a preamble. */
const benchOne: LoggerText = {
  preamble: [
    'Thornwick thermal laboratory, bench 1',
    'Sample rate: 100 Hz',
    'Started: 2026-03-09T10:12:31',
    'Time\tJunction',
    's\tV',
  ],
  delimiter: '\t',
  decimal: '.',
  lineEnd: '\n',
  timeDecimals: 2,
  valueDecimals: 5,
};

/** Bench 2 logs degrees with decimal commas and semicolons, as a spreadsheet of its region would. */
const benchTwo: LoggerText = {
  preamble: ['Thornwick, bench 2', 'Zeit [s];Kugel [°C]'],
  delimiter: ';',
  decimal: ',',
  lineEnd: '\r\n',
  timeDecimals: 2,
  valueDecimals: 2,
};

/** Bench 3 logs a bare column; the rate stands in the preamble. */
const benchThree: LoggerText = {
  preamble: ['# rate = 1000 Hz', '# temperature in degC'],
  delimiter: ',',
  decimal: '.',
  lineEnd: '\n',
  timeDecimals: null,
  valueDecimals: 3,
};

/** The recordings of the example folder, all from one seed. */
export function thornwickRecordings(seed: number): readonly ThornwickRecording[] {
  return [
    {
      path: 'A/bench-1/brass-12_120.txt',
      trial: {
        ...plainTrial,
        ...turbulent,
        seed,
        timeConstant: 37.2,
        ambient: 20.6,
        peak: 108,
        baseline: 24,
        heating: 55,
        coolingTimeConstants: 4.2,
        hotTail: 0.25,
        ambientShift: -0.2,
      },
      text: benchOne,
      encoding: 'utf-8',
      logged: amplified,
    },
    {
      path: 'A/bench-2/aluminium-12_120.csv',
      trial: {
        ...plainTrial,
        ...turbulent,
        seed: seed + 1,
        rate: 50,
        timeConstant: 26.4,
        ambient: 21.1,
        peak: 105,
        baseline: 19,
        heating: 42,
        coolingTimeConstants: 4.5,
        hotTail: 0.2,
        ambientShift: 0.15,
        step: 0.02,
      },
      text: benchTwo,
      encoding: 'latin-1',
      logged: degrees,
    },
    {
      path: 'A/bench-3/bare-junction_120.txt',
      trial: {
        ...plainTrial,
        seed: seed + 2,
        rate: 1000,
        timeConstant: 1.35,
        ambient: 20.9,
        peak: 96,
        baseline: 16,
        heating: 9,
        coolingTimeConstants: 7,
        whiteNoise: 0.12,
        correlatedNoise: 0.25,
        correlationTime: 0.08,
        hum: 0.3,
      },
      text: benchThree,
      encoding: 'utf-8',
      logged: degrees,
    },
    {
      path: 'B/bench-1/brass-20_60.txt',
      trial: {
        ...plainTrial,
        ...turbulent,
        seed: seed + 3,
        rate: 20,
        timeConstant: 114,
        ambient: 20.4,
        peak: 101,
        baseline: 21,
        heating: 110,
        coolingTimeConstants: 0.55,
        hotTail: 0.3,
      },
      text: { ...benchOne, preamble: benchOne.preamble.map((line) => line.replace('100 Hz', '20 Hz')) },
      encoding: 'utf-8',
      logged: amplified,
    },
    {
      path: 'B/bench-2/aluminium-20_60.csv',
      trial: {
        ...plainTrial,
        ...turbulent,
        seed: seed + 4,
        rate: 20,
        timeConstant: 84,
        ambient: 20.7,
        peak: 99,
        baseline: 5,
        heating: 90,
        coolingTimeConstants: 3.2,
        hotTail: 0.3,
        step: 0.1,
      },
      text: { ...benchTwo, valueDecimals: 1 },
      encoding: 'latin-1',
      logged: degrees,
    },
  ];
}

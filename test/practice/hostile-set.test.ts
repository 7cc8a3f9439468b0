import { describe, expect, test } from 'vitest';
import { PracticeError, practiceSet, simulateRecording } from '../../src/practice/index.ts';
import { experimentOf, templateWith } from '../experiment/read.ts';
import { plainWishes } from './wishes.ts';

/** Experiment files that are odd but allowed. */
const odd: Readonly<Record<string, readonly (readonly [string, string])[]>> = {
  'a limit below the room': [['  limit: 140 degC                   # no body', '  limit: 10 degC # no body']],
  'a limit below the target': [
    ['  limit: 140 degC                   # no body', '  limit: 60 degC # no body'],
  ],
  'hot air below the target': [['stream: 180 degC', 'stream: 90 degC']],
  'hot air below the room': [
    ['stream: 180 degC', 'stream: 30 degC'],
    ['  temperature: 20.5 degC +- 1 K', '  temperature: 40 degC'],
  ],
  'a target below the room': [['  target: 95 degC', '  target: 5 degC']],
  'a body like dust': [['diameter: 8.00 mm +- 0.02 mm', 'diameter: 0.01 mm']],
  'a body like a ball': [['diameter: 8.00 mm +- 0.02 mm', 'diameter: 300 mm']],
  'a body of unknown size': [['diameter: 8.00 mm +- 0.02 mm', 'diameter: 8 mm +- 8 mm']],
  'a body that does not conduct': [
    [
      'diameter: 8.00 mm +- 0.02 mm\n    material: aluminium',
      'diameter: 8 mm\n    material: { density: 1 kg/m3, specific-heat: 10 J/(kg K), conductivity: 0.001 W/(m K) }',
    ],
  ],
  'a storm': [['  120: 120 L/min', '  120: 300 m/s']],
  'a breath': [['  120: 120 L/min', '  120: 0.001 m/s']],
  'no cooling at all': [['end-fraction: 0.1', 'end-fraction: 0.999']],
  'a cooling without end': [['end-fraction: 0.1', 'end-fraction: 0.0000001']],
  'a day of baseline': [['baseline: 15 s', 'baseline: 24 h']],
  'no baseline': [['baseline: 15 s', 'baseline: 0 s']],
  'a heating that was over at once': [
    ['    limit: 140 degC\n\n', '    limit: 140 degC\n    heating: { time: 0 s }\n\n'],
  ],
  'a heating that took a day': [
    ['    limit: 140 degC\n\n', '    limit: 140 degC\n    heating: { time-constant: 24 h }\n\n'],
  ],
  'a theory that nobody trusts': [['accuracy: 30 %', 'accuracy: 99 %']],
  'a converter of one bit': [['bits: 16                          # or resolution: 0.3 mV', 'bits: 1']],
  'a range that ends below': [['{ from: -10 V, to: 10 V }', '{ from: -10 V, to: -9 V }']],
  'a gain beyond all': [['gain: 200  ', 'gain: 100000000']],
  'thick wires': [
    ['{ material: copper, diameter: 0.2 mm }', '{ material: copper, diameter: 5 mm, number: 10 }'],
  ],
  'a thermocouple that feels nothing here': [
    ['thermocouple: T', 'thermocouple: B'],
    ['tolerance-class: "1"', 'tolerance-class: "2"'],
  ],
};

describe('odd experiments', () => {
  test.each(Object.entries(odd))('%s: simulated, or refused with a reason', (_, changes) => {
    const experiment = experimentOf(templateWith(...changes));
    const wishes = {
      ...plainWishes,
      groups: 1,
      rate: 1,
      conditions: [{ body: 'aluminium-8', flow: '120' }],
      faultShare: 1,
    };
    let made: ReturnType<typeof practiceSet>;
    try {
      made = practiceSet(experiment, wishes);
    } catch (error) {
      expect(error).toBeInstanceOf(PracticeError);
      expect(String(error)).toMatch(/[.:] [A-Z][^.]*\.$|: [a-z][^.]*\.$/);
      return;
    }
    for (const { source } of made.recordings) {
      const { logged, truth } = simulateRecording(source.trial);
      expect(logged.length).toBeGreaterThan(1);
      expect(logged.every(Number.isFinite)).toBe(true);
      expect(Number.isFinite(truth.peak)).toBe(true);
    }
  });
});

import { rigs } from './rigs.ts';
import type { Scenario } from './scenario.ts';
import { base, bead, moderate, strong } from './scenario-base.ts';

/** Error fractions that a cooling has come to when the forecast is asked for. */
export const forecastFrom = [0.8, 0.6, 0.4, 0.2] as const;

const kind = { ...base, cooling: 4, recordings: 200 } as const;

/** Coolings whose end is foretold while they are recorded. */
export const forecastCases: readonly Scenario[] = [
  {
    ...kind,
    rig: rigs.sphere40,
    name: 'forecast 40 s',
    about: 'noise 0.3 K over 0.5 s',
    correlated: moderate,
  },
  {
    ...kind,
    rig: rigs.sphere160,
    name: 'forecast 160 s',
    about: 'noise 0.3 K over 1 s, 20 Hz',
    rate: 20,
    correlated: [{ standardDeviation: 0.3, correlationTime: 1 }],
  },
  {
    ...kind,
    rig: rigs.sphere40,
    name: 'forecast 40 s strong',
    about: 'noise 1 K over 1 s',
    correlated: strong,
  },
  {
    ...kind,
    rig: rigs.bead2,
    name: 'forecast 2 s',
    about: 'noise 0.3 K over 0.3 s, 200 Hz, no drift',
    rate: 200,
    cooling: 6,
    tail: bead.tail,
    drift: 0,
    correlated: [{ standardDeviation: 0.3, correlationTime: 0.3 }],
  },
  {
    ...kind,
    rig: rigs.sphere40,
    name: 'forecast 40 s tail',
    about: 'hot air that dies away over 1 s, white noise, no drift',
    tail: 1,
    drift: 0,
  },
];

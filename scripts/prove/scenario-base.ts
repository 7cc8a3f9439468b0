import type { DialectName } from '../../src/practice/bench-types.ts';
import type { Memory, Scenario } from './scenario.ts';

/** Noise of the signal, from none that lasts to some that lasts longer than a bead takes to cool. */
export const brief: readonly Memory[] = [{ standardDeviation: 0.3, correlationTime: 0.1 }];
export const moderate: readonly Memory[] = [{ standardDeviation: 0.3, correlationTime: 0.5 }];
export const lasting: readonly Memory[] = [{ standardDeviation: 1, correlationTime: 0.5 }];
export const strong: readonly Memory[] = [{ standardDeviation: 1, correlationTime: 1 }];

/** Dialects that ask for no remark of their own. */
const ordinary: readonly DialectName[] = [
  'plain-tab',
  'comma-header',
  'semicolon-comma',
  'unit-row',
  'key-values',
  'spaces',
];

/** 0.5 K in 10 minutes, and 0.3 K: what the analysis assumes where it is told nothing else. */
const usual = { offset: 0.3, drift: 0.5 / 600 } as const;

/** What a scenario is where it does not say otherwise. */
export const base: Omit<Scenario, 'name' | 'about' | 'rig'> = {
  ...usual,
  purpose: 'lumped',
  stems: [],
  rate: 100,
  baseline: 20,
  cooling: 4,
  correlated: [],
  white: 0.1,
  hum: 0,
  step: 0.01,
  turbulence: null,
  unsteady: null,
  tail: 0.2,
  junctionLag: 0,
  logged: 'degrees',
  dialects: ordinary,
  expected: [],
  bound: false,
  detect: null,
  recordings: 100,
};

/** Beads cool for more time constants, and are pulled out of the hot air rather than waiting for it to die away. */
export const bead: Omit<Scenario, 'name' | 'about' | 'rig'> = {
  ...base,
  rate: 1000,
  cooling: 8,
  tail: 0,
};

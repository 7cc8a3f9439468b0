import type { SimulatedStem } from '../../src/practice/bench-types.ts';
import { rigs } from './rigs.ts';
import type { Scenario } from './scenario.ts';
import { base, brief, moderate, strong } from './scenario-base.ts';

const steel = { density: 7900, specificHeat: 500, conductivity: 15 } as const;
const copper = { density: 8900, specificHeat: 390, conductivity: 390 } as const;

/**
 * Stems of the 12.7 mm brass sphere. A stem's conductance is that of a fin, root(h p k A) tanh(m L). That of the slow
 * rods is a tenth of the sphere's h A; the noise-free reading of the first is a sum of two exponentials of which the
 * slower has 10 % of the step and 3.7 times the time constant, that of the second 15 % and 2.2 times. The wire's is a
 * tenth as well, but its own time constant of 5 s lets it follow the sphere, which then has one exponential again.
 */
const slowRod: SimulatedStem = { ...steel, diameter: 0.005, length: 0.08, coefficient: 16 };
const rod: SimulatedStem = { ...steel, diameter: 0.004, length: 0.08, coefficient: 31 };
const wire: SimulatedStem = { ...copper, diameter: 0.0008, length: 0.15, coefficient: 150 };

const kind = { ...base, recordings: 60 } as const;

/** Bodies with a temperature profile, and bodies with a second path of the heat. */
export const departures: readonly Scenario[] = [
  {
    ...kind,
    rig: rigs.glass8,
    purpose: 'conducting',
    name: 'Bi 0.1',
    about: 'glass, noise 0.3 K over 0.5 s',
    correlated: moderate,
  },
  {
    ...kind,
    rig: rigs.glass12,
    purpose: 'conducting',
    name: 'Bi 0.2',
    about: 'glass, noise 0.3 K over 0.5 s',
    correlated: moderate,
  },
  {
    ...kind,
    rig: rigs.glass12fast,
    purpose: 'conducting',
    name: 'Bi 0.3',
    about: 'glass, noise 0.3 K over 0.5 s',
    correlated: moderate,
    detect: 'Detection at a Biot number of 0.3',
  },
  {
    ...kind,
    rig: rigs.glass12fast,
    purpose: 'conducting',
    name: 'Bi 0.3 strong',
    about: 'glass, noise 1 K over 1 s',
    correlated: strong,
  },
  {
    ...kind,
    rig: rigs.polymer6,
    purpose: 'conducting',
    name: 'Bi 0.5',
    about: 'polymer, noise 0.3 K over 0.5 s',
    correlated: moderate,
  },
  {
    ...kind,
    rig: rigs.sphere40,
    purpose: 'stem',
    name: '10 % rod',
    about: 'second exponential of 10 % of the step, 3.7 tau',
    stems: [slowRod],
    correlated: moderate,
    detect: 'Detection of a stem with a tenth of the conductance and of the step',
  },
  {
    ...kind,
    rig: rigs.sphere40,
    purpose: 'stem',
    name: '10 % rod, faster',
    about: 'second exponential of 15 % of the step, 2.2 tau',
    stems: [rod],
    correlated: moderate,
    detect: 'Detection of a stem with a tenth of the conductance and a closer time constant',
  },
  {
    ...kind,
    rig: rigs.sphere40,
    purpose: 'stem',
    name: '10 % rod, strong',
    about: 'the first rod in noise of 1 K over 1 s',
    stems: [slowRod],
    correlated: strong,
  },
  {
    ...kind,
    rig: rigs.sphere40,
    purpose: 'stem',
    name: '10 % wire',
    about: 'a wire that follows the sphere: one exponential, nothing to detect',
    stems: [wire],
    correlated: moderate,
  },
];

/** Disturbances that a single recording hides. */
export const hidden: readonly Scenario[] = [
  {
    ...kind,
    rig: rigs.sphere40,
    purpose: 'hidden',
    name: '40 s unsteady jet',
    about: 'coefficient fluctuates by 5 % over 0.3 s',
    correlated: brief,
    unsteady: { standardDeviation: 0.05, correlationTime: 0.3 },
  },
  {
    ...kind,
    rig: rigs.bead1,
    purpose: 'hidden',
    name: '1 s unsteady jet',
    about: 'coefficient fluctuates by 5 % over 0.1 s',
    rate: 1000,
    cooling: 8,
    tail: 0,
    correlated: brief,
    unsteady: { standardDeviation: 0.05, correlationTime: 0.1 },
  },
  {
    ...kind,
    rig: rigs.bead03,
    purpose: 'hidden',
    name: '0.3 s tail',
    about: 'hot air that dies away over 0.15 s, half the time constant',
    rate: 1000,
    cooling: 8,
    tail: 0.15,
    correlated: brief,
  },
  {
    ...kind,
    rig: rigs.sphere40,
    purpose: 'hidden',
    name: '40 s cold jet',
    about: 'jet against baseline 1 K, more than three times what is assumed',
    correlated: moderate,
    offset: 1,
  },
];

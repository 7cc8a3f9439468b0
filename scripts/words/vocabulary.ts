/** Where the words of the project stand. */
export type Area = 'source' | 'page' | 'docs' | 'test' | 'example';

/** One concept with the name that it has everywhere. */
export interface Concept {
  readonly name: string;
  /** Other names for it, which would make a reader look for a second concept. */
  readonly not: readonly string[];
  /** Where it has to be found by its name. */
  readonly in: readonly Area[];
}

/** Somewhere where another name has to stand, and why. */
export interface Exception {
  /** Beginning of the paths of files. */
  readonly path: string;
  readonly word: string;
  readonly why: string;
}

const everywhere: readonly Area[] = ['source', 'page', 'docs', 'test', 'example'];
const told: readonly Area[] = ['source', 'docs', 'test'];

/** The concepts of which more than one name is about. */
export const concepts: readonly Concept[] = [
  { name: 'recording', not: ['measurement file', 'log file'], in: everywhere },
  { name: 'time constant', not: ['relaxation time', 'decay time constant'], in: everywhere },
  {
    name: 'error fraction',
    not: ['normalised temperature', 'normalized temperature', 'dimensionless temperature'],
    in: ['source', 'page', 'docs', 'test'],
  },
  { name: 'baseline', not: ['base line', 'preheat stretch'], in: everywhere },
  { name: 'heat-off', not: ['heat cutoff', 'heater off'], in: told },
  { name: 'hot tail', not: ['thermal tail', 'heat tail'], in: told },
  { name: 'cooling', not: ['cool down', 'cooldown'], in: everywhere },
  { name: 'ambient', not: ['surrounding temperature', 'sink temperature'], in: everywhere },
  { name: 'standard uncertainty', not: ['error bar', 'standard error of the result'], in: everywhere },
  { name: 'coverage interval', not: ['confidence interval', 'credible interval'], in: ['source', 'docs'] },
  { name: 'budget', not: ['error budget', 'error breakdown'], in: everywhere },
  { name: 'verdict', not: ['rating', 'quality flag'], in: everywhere },
  { name: 'remark', not: ['advisory', 'caveat'], in: everywhere },
  { name: 'experiment folder', not: ['project folder', 'course folder'], in: told },
  { name: 'experiment file', not: ['config file', 'configuration file', 'settings file'], in: told },
  { name: 'sensor chain', not: ['signal chain', 'measurement chain', 'measuring chain'], in: told },
  { name: 'reference junction', not: ['cold junction', 'CJC'], in: told },
  { name: 'sampling rate', not: ['sample rate', 'sampling frequency'], in: told },
  { name: 'converter', not: ['ADC', 'digitiser', 'digitizer'], in: told },
  { name: 'logger', not: ['data logger', 'acquisition system', 'DAQ'], in: everywhere },
  { name: 'flow meter', not: ['flowmeter', 'rotameter'], in: told },
  { name: 'heat transfer', not: ['film coefficient', 'convection coefficient'], in: told },
  { name: 'bench', not: ['workstation', 'lab station'], in: everywhere },
  { name: 'instructor', not: ['teacher', 'lecturer', 'professor'], in: ['source', 'docs', 'test'] },
  { name: 'workbench', not: ['dashboard', 'control panel'], in: ['source', 'docs'] },
  { name: 'analyze', not: ['analysed', 'analysing', 'analyser'], in: ['source', 'docs', 'test', 'example'] },
  { name: 'practice', not: ['training set', 'dummy data'], in: told },
  { name: 'released', not: ['unblinded', 'published to groups'], in: ['source', 'page', 'docs'] },
];

/** Other people's words, which have to be understood. */
export const exceptions: readonly Exception[] = [
  { path: 'scripts/words/', word: '', why: 'the list itself' },
  { path: 'test/scripts/words.test.ts', word: '', why: 'tries what is found' },
  { path: 'src/marking/columns.ts', word: 'convection coefficient', why: 'a heading as groups write it' },
  { path: 'src/recording/channels.ts', word: 'CJC', why: 'a channel as loggers name it' },
  { path: 'src/practice/dialect-head.ts', word: 'sample rate', why: 'a head as loggers write it' },
  { path: 'test/', word: 'sample rate', why: 'heads as loggers write them' },
  { path: 'test/', word: 'sampling frequency', why: 'heads as loggers write them' },
  {
    path: 'test/sensing/thermocouple.test.ts',
    word: 'cold junction',
    why: 'a column of a table of others, word for word',
  },
];

/** A function that two rooms declare under one name, and why that is right. */
export interface SharedName {
  readonly name: string;
  readonly why: string;
}

/** Functions that mean the same in each room that declares them. */
export const sharedNames: readonly SharedName[] = [
  {
    name: 'choleskyFactor',
    why: 'the same factor: of small correlation matrices that may be singular, and of covariances in place',
  },
  {
    name: 'converterStep',
    why: 'the same step: seen in readings, and as simulated; what simulates shares no code with what estimates',
  },
  {
    name: 'figures',
    why: 'the same: a number to so many significant figures; each room writes its sentences',
  },
  {
    name: 'shown',
    why: 'the same: a number for a sentence; prediction and experiment write sentences apart',
  },
  {
    name: 'windowTimeConstant',
    why: 'the same: predicted, and as simulated; what simulates shares no code with what is tried by it',
  },
  {
    name: 'firstAtOrAfter',
    why: 'the same: the place of a moment in ordered times; rooms do not reach into each other for five lines',
  },
];

export { callsOf } from './attention.ts';
export { bearableZeroShift } from './bearable.ts';
export { type BodyCandidate, rigCandidates } from './body-candidate.ts';
export { expectedBodies } from './body-expected.ts';
export { bodyLikeness } from './body-likeness.ts';
export type { EarlierRun } from './earlier-runs.ts';
export type { TrialContext } from './gate-input.ts';
export { spokenTime } from './gate-words.ts';

export { zeroShiftInKelvin } from './gates-zero.ts';
export { TrialWatch } from './trial-watch.ts';
export type { TrialNow } from './types.ts';

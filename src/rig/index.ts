export { type AskedCheck, admitCheck, type NewRigCheck } from './admit.ts';
export { rigKind, rigKinds } from './kinds.ts';
export {
  type AskedReference,
  admitReference,
  countingRuns,
  type NewReferenceRun,
  type ReferenceResult,
} from './reference.ts';
export { codesOf, countingChecks, standingsOf } from './standing.ts';
export { rigRemarks, rigTrouble } from './trial.ts';
export type {
  ReferenceBook,
  ReferenceRun,
  RigBook,
  RigCheck,
  RigCheckKind,
  RigStanding,
  RigWithdrawal,
} from './types.ts';
export { checkedThing } from './words.ts';

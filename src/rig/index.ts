export { type Admitted, type AskedCheck, admitCheck, type NewRigCheck } from './admit.ts';
export { type RigKind, rigKind, rigKinds } from './kinds.ts';
export { codesOf, countingChecks, standingsOf } from './standing.ts';
export { benchOfTrial, rigRemarks, type TrialOfRig } from './trial.ts';
export type { RigBook, RigCheck, RigCheckKind, RigStanding, RigState, RigWithdrawal } from './types.ts';
export { checkedThing } from './words.ts';

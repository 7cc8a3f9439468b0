export { type AskedCheck, admitCheck, type NewRigCheck } from './admit.ts';
export { rigKind, rigKinds } from './kinds.ts';
export { codesOf, countingChecks, standingsOf } from './standing.ts';
export { rigRemarks, rigTrouble } from './trial.ts';
export type { RigBook, RigCheck, RigCheckKind, RigStanding, RigWithdrawal } from './types.ts';
export { checkedThing } from './words.ts';

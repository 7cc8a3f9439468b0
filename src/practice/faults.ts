import { faultsOfTheChain } from './fault-chain.ts';
import { type FaultName, faultNames, type PairFaultName } from './fault-names.ts';
import { faultsOfTheTrial } from './fault-trial.ts';
import type { TrialFault } from './fault-types.ts';

/** Every fault within one recording. */
export const trialFaults: readonly TrialFault[] = [...faultsOfTheTrial, ...faultsOfTheChain];

/** What the faults of two recordings are. */
const pairFaults: Readonly<Record<PairFaultName, string>> = {
  swapped: 'two recordings of a group, of different conditions, have each other’s names',
  'same-file': 'two groups hand in the same file, byte for byte',
};

/** All faults, each with what it is and how large. */
export const faults: readonly { readonly name: FaultName; readonly about: string }[] = faultNames.map(
  (name) => {
    if (name === 'swapped' || name === 'same-file') return { name, about: pairFaults[name] };
    return { name, about: trialFaults.find((fault) => fault.name === name)?.about ?? '' };
  },
);

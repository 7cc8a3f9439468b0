/** Faults that can be planted. */
export const faultNames = [
  'baseline-short',
  'zero-drifted',
  'jet-off',
  'jet-changed',
  'heated-twice',
  'over-limit',
  'stopped-early',
  'clipped',
  'wrong-thermocouple',
  'wrong-rate',
  'melted-adhesive',
  'spreadsheet-resaved',
  'swapped',
  'same-file',
] as const;

/** Name of a fault that can be planted. */
export type FaultName = (typeof faultNames)[number];

/** The ones that are made of two recordings. */
export type PairFaultName = Extract<FaultName, 'swapped' | 'same-file'>;
export type TrialFaultName = Exclude<FaultName, PairFaultName>;

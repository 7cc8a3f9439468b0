export type { ChainUncertainty, Trace } from './types.ts';

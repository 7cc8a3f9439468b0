export { BlockAssembler, blocksOf } from './blocks.ts';
export type { Blocks, Channel, ChannelUnit, Dialect, Recording, TimeBasis } from './types.ts';

export { BlockAssembler, blocksOf } from './blocks.ts';
export { coarsenBlocks } from './coarsen.ts';
export { RecordingError, type RecordingErrorCode } from './error.ts';
export type { ReadOptions, TimeUnit } from './options.ts';
export { readOptionsWords } from './options-words.ts';
export { createReader, type RecordingReader } from './reader.ts';
export { splitRow } from './split.ts';
export { findEncoding } from './text.ts';
export type { Blocks, Channel, ChannelUnit, Dialect, Recording, TimeBasis } from './types.ts';

export { type FloorOptions, openFloor } from './floor.ts';
export type {
  BenchTile,
  Call,
  FinishedTrial,
  Floor,
  FloorNow,
  SessionNow,
} from './types.ts';

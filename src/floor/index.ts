export { openFloor } from './floor.ts';
export type {
  BenchTile,
  Floor,
  FloorNow,
} from './types.ts';

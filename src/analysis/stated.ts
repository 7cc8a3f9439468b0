import type { TimeConstant } from '../decay/index.ts';
import type { StatedTimeConstant } from './types.ts';

/** More degrees of freedom than this are as good as any number of them. */
const plenty = 1e6;

/** A time constant in numbers that every format can hold. */
export function stated(timeConstant: TimeConstant): StatedTimeConstant {
  const [low, high] = timeConstant.interval;
  return {
    ...timeConstant,
    interval: [low, high],
    degreesOfFreedom: Math.min(timeConstant.degreesOfFreedom, plenty),
  };
}

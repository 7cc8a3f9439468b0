import type { StretchPoint } from './stretches.ts';

/** The latest temperature and slope are taken over so many points. */
const latestPoints = 2;
const slopePoints = 8;

/** Temperature and slope of a trace as it is now. */
export class Latest {
  #points: readonly StretchPoint[] = [];

  add(point: StretchPoint): void {
    this.#points = [...this.#points.slice(1 - slopePoints), point];
  }

  /** °C; null before there is a point. */
  get temperature(): number | null {
    const points = this.#points.slice(-latestPoints);
    if (points.length === 0) return null;
    return points.reduce((sum, point) => sum + point.temperature, 0) / points.length;
  }

  /** K/s by a straight line; null before there are enough points. */
  get slope(): number | null {
    const points = this.#points;
    if (points.length < slopePoints / 2) return null;
    const middle = points.reduce((sum, { time }) => sum + time, 0) / points.length;
    const up = points.reduce((sum, point) => sum + (point.time - middle) * point.temperature, 0);
    const across = points.reduce((sum, point) => sum + (point.time - middle) ** 2, 0);
    return across > 0 ? up / across : null;
  }
}

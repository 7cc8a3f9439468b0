import type { StretchPoint } from './stretches.ts';
import type { TrialNow } from './types.ts';

/** Most points of a course. */
const mostPoints = 160;

/** The course of a trial on few points: where there are too many, neighbours become one. */
export class Course {
  #points: StretchPoint[] = [];
  #pooled = 1;
  #waiting: StretchPoint[] = [];

  add(point: StretchPoint): void {
    this.#waiting.push(point);
    if (this.#waiting.length < this.#pooled) return;
    this.#points.push(middleOf(this.#waiting));
    this.#waiting = [];
    if (this.#points.length <= mostPoints) return;
    const points = this.#points;
    this.#points = [];
    for (let i = 0; i + 1 < points.length; i += 2) this.#points.push(middleOf(points.slice(i, i + 2)));
    this.#waiting = points.length % 2 === 1 ? points.slice(-1) : [];
    this.#pooled *= 2;
  }

  /** Forgets what was before a moment. */
  forgetBefore(time: number): void {
    this.#points = this.#points.filter((point) => point.time >= time);
  }

  get series(): TrialNow['series'] {
    return {
      time: this.#points.map(({ time }) => time),
      temperature: this.#points.map(({ temperature }) => temperature),
    };
  }
}

function middleOf(points: readonly StretchPoint[]): StretchPoint {
  const sum = (of: (point: StretchPoint) => number) => points.reduce((total, one) => total + of(one), 0);
  return {
    time: sum(({ time }) => time) / points.length,
    temperature: sum(({ temperature }) => temperature) / points.length,
  };
}

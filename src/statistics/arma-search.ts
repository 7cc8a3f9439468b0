/** Where a search ended. */
export interface PlaneMinimum {
  readonly at: readonly [number, number];
  readonly value: number;
  readonly evaluations: number;
}

/** A search that came this close to a minimum that is known, from all sides, has found it again. */
const sameMinimum = 0.1;

type Corner = { x: number; y: number; value: number };

/**
 * Minimum of a function of two variables by the downhill simplex of Nelder & Mead, The Computer Journal 7
 * (1965) 308, with their coefficients 1, 2, 1/2, 1/2.
 *
 * @param f may return Infinity where it is not defined
 * @param start first corner
 * @param size edge of the first simplex
 * @param budget most evaluations
 * @param tolerance ends when no corner is further than this from the best one
 * @param known minimum of an earlier search; this one is broken off where it only finds that again
 */
export function minimumInPlane(
  f: (x: number, y: number) => number,
  start: readonly [number, number],
  size: number,
  budget: number,
  tolerance: number,
  known: PlaneMinimum | null = null,
): PlaneMinimum {
  let evaluations = 0;
  const corner = (x: number, y: number): Corner => {
    evaluations++;
    return { x, y, value: f(x, y) };
  };
  const [x0, y0] = start;
  let [best, middle, worst] = ranked(corner(x0, y0), corner(x0 + size, y0), corner(x0, y0 + size));
  const again = () => known !== null && foundAgain(known, best, middle, worst);
  while (evaluations < budget && spread(best, middle, worst) > tolerance && !again()) {
    const cx = (best.x + middle.x) / 2;
    const cy = (best.y + middle.y) / 2;
    const along = (step: number): Corner => corner(cx + step * (worst.x - cx), cy + step * (worst.y - cy));
    const reflected = along(-1);
    let next: Corner | null = reflected;
    if (reflected.value < best.value) {
      const expanded = along(-2);
      if (expanded.value < reflected.value) next = expanded;
    } else if (reflected.value >= middle.value) {
      const contracted = along(reflected.value < worst.value ? -0.5 : 0.5);
      next = contracted.value < Math.min(reflected.value, worst.value) ? contracted : null;
    }
    if (next === null) {
      const { x, y } = best;
      middle = corner((middle.x + x) / 2, (middle.y + y) / 2);
      worst = corner((worst.x + x) / 2, (worst.y + y) / 2);
    } else {
      worst = next;
    }
    [best, middle, worst] = ranked(best, middle, worst);
  }
  return { at: [best.x, best.y], value: best.value, evaluations };
}

function ranked(...corners: [Corner, Corner, Corner]): [Corner, Corner, Corner] {
  return corners.sort((a, b) => a.value - b.value);
}

/** Whether all corners lie about a minimum and none is lower. */
function foundAgain({ at: [x, y], value }: PlaneMinimum, best: Corner, ...others: Corner[]): boolean {
  return best.value >= value && [best, ...others].every((c) => Math.hypot(c.x - x, c.y - y) < sameMinimum);
}

function spread(best: Corner, ...others: Corner[]): number {
  return Math.max(...others.map((c) => Math.hypot(c.x - best.x, c.y - best.y)));
}

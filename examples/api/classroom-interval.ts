/**
 * How often a 95 % interval holds the truth: that of the fit, and that which a class prints from the regression of the
 * logarithm through the origin, for slow and fast sampling.
 */
import { analyzeSimulated, quickBead } from './brass-sphere.ts';

const recordings = 20;

console.log('rate Hz  fit holds  classroom holds  classroom ± s  true error s');
for (const rate of [10, 50]) {
  let fitHolds = 0;
  let classroomHolds = 0;
  let printed = 0;
  let squares = 0;
  for (let seed = 1; seed <= recordings; seed++) {
    const { truth, decay } = analyzeSimulated({
      ...quickBead,
      seed,
      logger: { ...quickBead.logger, rate },
    });
    const origin = decay.estimates.find(({ method }) => method === 'log-linear-origin')?.classroom;
    const fit = decay.timeConstant?.interval;
    if (!origin?.interval || !fit) continue;
    const holds = ([low, high]: readonly [number, number]) => truth >= low && truth <= high;
    if (holds(fit)) fitHolds += 1;
    if (holds(origin.interval)) classroomHolds += 1;
    printed += (origin.interval[1] - origin.interval[0]) / 2 / recordings;
    squares += (origin.value - truth) ** 2 / recordings;
  }
  const cells = [
    String(rate).padStart(7),
    `${fitHolds} of ${recordings}`.padStart(9),
    `${classroomHolds} of ${recordings}`.padStart(15),
    printed.toFixed(4).padStart(13),
    Math.sqrt(squares).toFixed(3).padStart(12),
  ];
  console.log(cells.join('  '));
}

/** Hot air that lingers after the heat is off: what it does to each way of working a quick sensor's recording. */
import { analyzeSimulated, quickBead } from './brass-sphere.ts';

console.log('hot air lingers s  truth s    fit s  through origin s  36.8 % point s');
for (const tail of [0, 0.2, 0.5]) {
  const { truth, decay } = analyzeSimulated({
    ...quickBead,
    heatings: quickBead.heatings.map((heating) => ({ ...heating, tail })),
  });
  const taught = (method: string) => decay.estimates.find((one) => one.method === method)?.classroom?.value;
  const cells = [
    tail.toFixed(1).padStart(17),
    truth.toFixed(2).padStart(7),
    (decay.timeConstant?.value ?? Number.NaN).toFixed(2).padStart(7),
    (taught('log-linear-origin') ?? Number.NaN).toFixed(2).padStart(16),
    (taught('point-36.8') ?? Number.NaN).toFixed(2).padStart(14),
  ];
  console.log(cells.join('  '));
}

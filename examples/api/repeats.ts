/** Repeats of one trial at a bench whose jet never blows twice alike: what one recording says, and what repeats show. */
import { analyzeSimulated, brassSphere } from './brass-sphere.ts';

const blows = [1.03, 0.98, 1.01, 0.96, 1.02];

const values = blows.map((factor, place) => {
  const air = { ...brassSphere.air, coefficient: factor * brassSphere.air.coefficient };
  const { decay } = analyzeSimulated({
    ...brassSphere,
    seed: place + 1,
    air,
    logger: { ...brassSphere.logger, rate: 20 },
  });
  const value = decay.timeConstant?.value ?? Number.NaN;
  const own = decay.timeConstant?.standardUncertainty ?? Number.NaN;
  console.log(`repeat ${place + 1}: ${value.toFixed(2)} s, standard uncertainty ${own.toFixed(2)} s`);
  return { value, own };
});
const mean = values.reduce((sum, { value }) => sum + value, 0) / values.length;
const scatter = Math.sqrt(
  values.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / (values.length - 1),
);
const single = values.reduce((sum, { own }) => sum + own, 0) / values.length;
console.log(
  `scatter between repeats ${scatter.toFixed(2)} s, ${(scatter / single).toFixed(1)} times what one recording says`,
);

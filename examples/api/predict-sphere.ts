/** The time constant to expect of a sphere in an air stream, and what a correlation that is good to 30 % leaves of it. */
import { findMaterial, type PredictionInput, predict } from 'emberline';

const brass = findMaterial('brass');
if (brass === undefined) throw new Error('there is no such material');

/** SI, temperatures in K. */
const input: PredictionInput = {
  room: { pressure: 100_800, temperature: 294.15, relativeHumidity: 0.45 },
  flow: { kind: 'speed', speed: 18, temperature: 293.65, relativeHumidity: 0 },
  body: { shape: 'sphere', diameter: 0.012, material: brass, mass: null, emissivity: 0.2, wires: [] },
  cooling: { start: 368.15, window: { from: 0.9, to: 0.1 } },
  correlation: null,
};

for (const relative of [0.3, 0.1]) {
  const { timeConstant } = predict(input, { correlationAccuracy: { relative, coverageFactor: 2 }, draws: 0 });
  const { value, interval } = timeConstant;
  const [low, high] = interval.map((end) => `${(100 * (end / value - 1)).toFixed(0)} %`);
  console.log(
    `correlation good to ${100 * relative} %: ${value.toFixed(1)} s, ${interval[0].toFixed(1)} to ${interval[1].toFixed(1)} s (${low} to +${high})`,
  );
}

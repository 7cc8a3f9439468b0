import type { Input } from './uncertain.ts';

/** Step over the standard uncertainty: far inside the range that matters, far above rounding. */
const stepShare = 0.01;
/** Smallest step over the value: rounding then leaves about ten digits of a sensitivity. */
const smallestStep = 1e-6;

/**
 * Sensitivity coefficients ∂y/∂x of each output to one input, by central differences of fourth order
 * (Abramowitz & Stegun, 1964, 25.3.6) with a step of a hundredth of the standard uncertainty (a step as
 * large as the uncertainty itself, as JCGM 100:2008, 5.1.3, Note 2 has it, would mix in the curvature). Where the
 * model is not defined on one side of the estimate, the other side serves, with second order.
 *
 * @param model with outputs as a list
 * @param values estimates of the inputs; left as they were
 * @param outputs of the model at the estimates
 * @param input whose sensitivities are sought
 * @param place of the input
 * @returns one for each output; NaN where the model is defined on neither side
 */
export function sensitivitiesTo(
  model: (values: readonly number[]) => readonly number[],
  values: number[],
  outputs: readonly number[],
  input: Input,
  place: number,
): number[] {
  const { value, standardUncertainty } = input;
  const wanted = Math.max(stepShare * standardUncertainty, smallestStep * Math.abs(value)) || smallestStep;
  // The step as it survives being added to the value.
  const step = value + wanted - value;
  const at = (steps: number) => {
    values[place] = value + steps * step;
    return model(values);
  };
  const [below2, below1, above1, above2] = [at(-2), at(-1), at(1), at(2)];
  values[place] = value;
  return outputs.map((middle, output) => {
    const [b2, b1, a1, a2] = [below2, below1, above1, above2].map((list) => list[output] ?? Number.NaN);
    if (b2 === undefined || b1 === undefined || a1 === undefined || a2 === undefined) return Number.NaN;
    const central = (8 * (a1 - b1) - (a2 - b2)) / (12 * step);
    if (Number.isFinite(central)) return central;
    const forward = (4 * a1 - 3 * middle - a2) / (2 * step);
    if (Number.isFinite(forward)) return forward;
    const backward = (3 * middle - 4 * b1 + b2) / (2 * step);
    return Number.isFinite(backward) ? backward : Number.NaN;
  });
}

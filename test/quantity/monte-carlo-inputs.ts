import type { Distribution, Input } from '../../src/quantity/index.ts';

/** Four inputs of value 0 with one distribution. */
export function four(distribution: Distribution, uncertainties = [1, 1, 1, 1]): Input[] {
  return uncertainties.map((u, i) => ({
    name: `X${i + 1}`,
    value: 0,
    standardUncertainty: u,
    distribution,
    unit: '',
  }));
}

/** The model of the additive examples. */
export const sum = (x: readonly number[]) => x.reduce((total, a) => total + a, 0);

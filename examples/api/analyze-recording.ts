/** A recording from its text to a time constant with its budget. */
import { formatWithUncertainty } from 'emberline';
import { analyzeSimulated, brassSphere } from './brass-sphere.ts';

const { decay, truth } = analyzeSimulated(brassSphere);
const { timeConstant } = decay;
if (timeConstant === null) throw new Error('the recording has no time constant');

const { value, standardUncertainty, interval } = timeConstant;
const expanded = formatWithUncertainty(value, (interval[1] - interval[0]) / 2);
console.log(`time constant ${expanded.value} ± ${expanded.uncertainty} s, ${decay.verdict}`);
console.log(`standard uncertainty ${standardUncertainty.toFixed(3)} s; the truth is ${truth.toFixed(2)} s`);
for (const { label, share } of decay.budget) {
  if (share > 0.01) console.log(`  ${label}: ${Math.round(100 * share)} % of the variance`);
}
for (const { code, severity } of decay.remarks) console.log(`  ${severity}: ${code}`);

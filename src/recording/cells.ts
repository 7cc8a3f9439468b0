/**
 * Factors by which the cells of a recording may grow, one after the other, so that they keep fitting into
 * 0.1 s (five periods of 50 Hz, six of 60 Hz) and, as long as that is possible, into one period of 50 Hz and
 * three of 60 Hz as well. Empty where the rate does not put a whole number of samples into 0.1 s.
 *
 * @param samplePeriod spacing of the samples, s
 * @returns prime factors, in the order of use; beyond them cells double
 */
export function mainsFactors(samplePeriod: number): number[] {
  const tenth = wholeNumber(0.1 / samplePeriod);
  if (tenth === null) return [];
  const oneOf50 = wholeNumber(0.02 / samplePeriod);
  const threeOf60 = wholeNumber(0.05 / samplePeriod);
  const shared = [oneOf50, threeOf60].reduce<number>(
    (d, n) => (n === null ? d : greatestDivisor(d, n)),
    tenth,
  );
  return [...primeFactors(shared), ...primeFactors(tenth / shared)];
}

function wholeNumber(x: number): number | null {
  const n = Math.round(x);
  return n >= 1 && Math.abs(x - n) < 1e-6 * n ? n : null;
}

function greatestDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestDivisor(b, a % b);
}

function primeFactors(n: number): number[] {
  const factors: number[] = [];
  let rest = n;
  for (let p = 2; p * p <= rest; p++) {
    while (rest % p === 0) {
      factors.push(p);
      rest /= p;
    }
  }
  if (rest > 1) factors.push(rest);
  return factors;
}

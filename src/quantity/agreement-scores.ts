/**
 * Normalised error of a value against a reference: |En| ≤ 1 where the difference is within what the two expanded
 * uncertainties explain (ISO 13528:2022, 9.7; ISO/IEC 17043:2010, B.3; numbers of the clauses from memory).
 *
 * @param value in any unit
 * @param expanded expanded uncertainty of the value, same unit, at least 0
 * @param reference same unit
 * @param referenceExpanded expanded uncertainty of the reference, same unit and coverage, at least 0
 * @returns 0 for equal values, infinite for different ones if neither has an uncertainty; NaN if anything is unknown
 */
export function normalisedError(
  value: number,
  expanded: number,
  reference: number,
  referenceExpanded: number,
): number {
  return scoreOf(value - reference, Math.hypot(expanded, referenceExpanded));
}

/**
 * z score: the difference in units of the spread that is fit for the purpose. Up to 2 satisfactory, from 3 on a call
 * to act (ISO 13528:2022, 9.4).
 *
 * @param value in any unit
 * @param assigned value to compare with, same unit
 * @param fitSpread standard deviation for proficiency assessment, same unit, > 0
 */
export function zScore(value: number, assigned: number, fitSpread: number): number {
  return scoreOf(value - assigned, fitSpread);
}

/**
 * z′ score: the z score where the uncertainty of the assigned value is not negligible (ISO 13528:2022, 9.5).
 *
 * @param value in any unit
 * @param assigned value to compare with, same unit
 * @param fitSpread standard deviation for proficiency assessment, same unit, > 0
 * @param assignedUncertainty standard uncertainty of the assigned value, same unit, at least 0
 */
export function zPrimeScore(
  value: number,
  assigned: number,
  fitSpread: number,
  assignedUncertainty: number,
): number {
  return scoreOf(value - assigned, Math.hypot(fitSpread, assignedUncertainty));
}

/**
 * zeta score: the difference in units of its standard uncertainty (ISO 13528:2022, 9.6).
 *
 * @param value in any unit
 * @param u standard uncertainty of the value, same unit, at least 0
 * @param assigned value to compare with, same unit
 * @param assignedUncertainty standard uncertainty of the assigned value, same unit, at least 0
 */
export function zetaScore(value: number, u: number, assigned: number, assignedUncertainty: number): number {
  return scoreOf(value - assigned, Math.hypot(u, assignedUncertainty));
}

function scoreOf(difference: number, scale: number): number {
  if (difference === 0 && scale === 0) return 0;
  return difference / scale;
}

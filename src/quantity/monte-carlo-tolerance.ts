import { leadingPlace, roundAt } from './decimal.ts';

/**
 * Numerical tolerance of a standard uncertainty: half a unit in its last significant figure (JCGM 101:2008,
 * 7.9.2).
 *
 * @param u standard uncertainty in any unit, at least 0
 * @param figures significant figures that count
 * @returns in the same unit; 0 for an uncertainty of 0, NaN for one that is not finite
 */
export function digitTolerance(u: number, figures: 1 | 2): number {
  if (!Number.isFinite(u)) return Number.NaN;
  if (u === 0) return 0;
  const place = leadingPlace(u) - figures + 1;
  // 0.0996 is 0.10 to two figures: rounding may carry to the next place.
  const carried = roundAt(u, place).digits >= 10n ** BigInt(figures) ? 1 : 0;
  return 10 ** (place + carried) / 2;
}

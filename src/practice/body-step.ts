import { type BodyChain, iceKelvin, stefanBoltzmann } from './body-chain.ts';

/** What surrounds the body at one time. */
export interface Conditions {
  /** Temperature of the air, °C. */
  readonly air: number;
  /** About the sphere, W/(m² K). */
  readonly coefficient: number;
  /** Of the stems' coefficients. */
  readonly stemFactor: number;
}

/** Temperatures of a body at one time, °C; they are changed from step to step. */
export interface BodyState {
  readonly temperatures: Float64Array;
  junction: number;
  /** Lag of the junction behind the middle, s. */
  lag: number;
  /** Whether the adhesive has given way. */
  melted: boolean;
}

/** Steps a chain in time. */
export interface Stepper {
  /**
   * One step of TR-BDF2; changes the state.
   *
   * @param step s, > 0
   * @param start conditions at its start, at `middlePoint` of it, and at its end
   */
  advance(state: BodyState, step: number, start: Conditions, middle: Conditions, end: Conditions): void;
  /** Temperatures at which the body stays under constant conditions, °C; null where it loses no heat. */
  steady(conditions: Conditions): Float64Array | null;
  /**
   * By what each node lags behind air that drifts, over the drift, s: K⁻¹ C with the losses at a surface temperature
   * (°C). Null where the body loses no heat.
   */
  lags(conditions: Conditions, surface: number): Float64Array | null;
}

/** Where in a step the trapezoid rule hands over, 2 - √2: there both stages have the same matrix (Bank et al., 1985). */
export const middlePoint = 2 - Math.SQRT2;
const gamma = middlePoint;
const newWeight = 1 / (gamma * (2 - gamma));
const oldWeight = (1 - gamma) ** 2 * newWeight;

/** Newton steps for a steady state; it converges in a few, as T⁴ is convex. */
const newtonSteps = 60;

/**
 * Rate of change of the junction, K/s.
 *
 * @param state behind which the junction lags by first order, or whose middle it is
 */
export function junctionSlope(chain: BodyChain, state: BodyState): number {
  const centre = state.temperatures[0] ?? 0;
  if (state.lag > 0) return (centre - state.junction) / state.lag;
  const next = state.temperatures[chain.parent[0] ?? 0] ?? 0;
  return ((chain.link[0] ?? 0) * (next - centre)) / (chain.capacity[0] ?? 1);
}

/**
 * A stepper for a chain: TR-BDF2 (Bank et al., IEEE Trans. Electron Devices 32, 1985, 1992; Hosea & Shampine, 1996),
 * of second order and L-stable, so that fast nodes settle instead of ringing after a jump. Each stage is one
 * elimination of the tree from its leaves. Radiation to the surroundings, emissivity sigma (T⁴ - T_sur⁴), is made
 * linear about an extrapolated surface temperature in each stage. The junction follows the middle by first order and
 * takes no heat from it.
 *
 * @param surroundings temperature that the sphere radiates to, °C
 */
export function createStepper(chain: BodyChain, surroundings: number): Stepper {
  const { count, parent, link, links, capacity, stemLoss } = chain;
  const root = count - 1;
  const diagonal = new Float64Array(count);
  const right = new Float64Array(count);
  const flow = new Float64Array(count);
  const middle = new Float64Array(count);
  const radiance = chain.area * chain.emissivity * stefanBoltzmann;
  const received = radiance * (surroundings + iceKelvin) ** 4;
  const radiated = (surface: number) => radiance * (surface + iceKelvin) ** 4 - received;
  const radiationSlope = (surface: number) => 4 * radiance * (surface + iceKelvin) ** 3;

  /** Heat that flows into each node, W. */
  const computeFlow = (temperatures: Float64Array, at: Conditions) => {
    for (let i = 0; i < count; i++) {
      flow[i] = (stemLoss[i] ?? 0) * at.stemFactor * (at.air - (temperatures[i] ?? 0));
    }
    for (let i = 0; i < root; i++) {
      const p = parent[i] ?? 0;
      const q = (link[i] ?? 0) * ((temperatures[p] ?? 0) - (temperatures[i] ?? 0));
      flow[i] = (flow[i] ?? 0) + q;
      flow[p] = (flow[p] ?? 0) - q;
    }
    const surface = temperatures[root] ?? 0;
    const convected = chain.area * at.coefficient * (at.air - surface);
    flow[root] = (flow[root] ?? 0) + convected - radiated(surface);
  };

  /** Eliminates the tree whose off-diagonal entries are -weight × link, and puts the solution into a column. */
  const solve = (weight: number, into: Float64Array) => {
    for (let i = 0; i < root; i++) {
      const p = parent[i] ?? 0;
      const coupling = weight * (link[i] ?? 0);
      const factor = coupling / (diagonal[i] ?? 1);
      diagonal[p] = (diagonal[p] ?? 0) - factor * coupling;
      right[p] = (right[p] ?? 0) + factor * (right[i] ?? 0);
    }
    into[root] = (right[root] ?? 0) / (diagonal[root] ?? 1);
    for (let i = root - 1; i >= 0; i--) {
      const coupling = weight * (link[i] ?? 0);
      into[i] = ((right[i] ?? 0) + coupling * (into[parent[i] ?? 0] ?? 0)) / (diagonal[i] ?? 1);
    }
  };

  /** Solves (inertia C + weight K) T = right + weight × drive, linear about a surface temperature. */
  const solveStage = (inertia: 0 | 1, weight: number, at: Conditions, about: number, into: Float64Array) => {
    for (let i = 0; i < count; i++) {
      const loss = weight * at.stemFactor * (stemLoss[i] ?? 0);
      diagonal[i] = inertia * (capacity[i] ?? 0) + weight * (links[i] ?? 0) + loss;
      right[i] = (right[i] ?? 0) + loss * at.air;
    }
    const convection = chain.area * at.coefficient;
    const slope = radiationSlope(about);
    diagonal[root] = (diagonal[root] ?? 0) + weight * (convection + slope);
    const driven = convection * at.air + slope * about - radiated(about);
    right[root] = (right[root] ?? 0) + weight * driven;
    solve(weight, into);
  };

  const advance = (
    state: BodyState,
    step: number,
    start: Conditions,
    halfway: Conditions,
    end: Conditions,
  ) => {
    const t = state.temperatures;
    const weight = (gamma / 2) * step;
    const centre = t[0] ?? 0;
    const surface = t[root] ?? 0;
    computeFlow(t, start);
    for (let i = 0; i < count; i++) right[i] = (capacity[i] ?? 0) * (t[i] ?? 0) + weight * (flow[i] ?? 0);
    solveStage(1, weight, halfway, surface, middle);
    const middleCentre = middle[0] ?? 0;
    const middleSurface = middle[root] ?? 0;
    for (let i = 0; i < count; i++) {
      right[i] = (capacity[i] ?? 0) * (newWeight * (middle[i] ?? 0) - oldWeight * (t[i] ?? 0));
    }
    solveStage(1, weight, end, surface + (middleSurface - surface) / gamma, t);
    const endCentre = t[0] ?? 0;
    if (state.lag > 0) {
      const share = weight / state.lag;
      const before = state.junction;
      const between = (before + share * (centre - before + middleCentre)) / (1 + share);
      state.junction = (newWeight * between - oldWeight * before + share * endCentre) / (1 + share);
    } else {
      state.junction = endCentre;
    }
  };

  const losesHeat = (at: Conditions) =>
    radiance > 0 || chain.area * at.coefficient > 0 || stemLoss.some((loss) => loss * at.stemFactor > 0);

  const steady = (at: Conditions) => {
    if (!losesHeat(at)) return null;
    const temperatures = new Float64Array(count).fill(Math.max(at.air, surroundings));
    for (let round = 0; round < newtonSteps; round++) {
      const about = temperatures[root] ?? 0;
      right.fill(0);
      solveStage(0, 1, at, about, temperatures);
      if (Math.abs((temperatures[root] ?? 0) - about) < 1e-12) break;
    }
    return temperatures;
  };

  const lags = (at: Conditions, surface: number) => {
    if (!losesHeat(at)) return null;
    const result = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      diagonal[i] = (links[i] ?? 0) + at.stemFactor * (stemLoss[i] ?? 0);
      right[i] = capacity[i] ?? 0;
    }
    const loss = chain.area * at.coefficient + radiationSlope(surface);
    diagonal[root] = (diagonal[root] ?? 0) + loss;
    solve(1, result);
    return result;
  };

  return { advance, steady, lags };
}

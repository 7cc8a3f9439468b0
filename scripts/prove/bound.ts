import { choleskyFactor, choleskyForward } from '../../src/statistics/index.ts';

/** A recording of one exponential in Gaussian noise of known make. Times s, temperatures K. */
interface BoundDesign {
  readonly timeConstant: number;
  /** Excess over the ambient when the heat goes off. */
  readonly step: number;
  /** From the heat going off to the first reading that is used. */
  readonly from: number;
  /** From the heat going off to the last reading. */
  readonly to: number;
  /** Length of the baseline, and of the heating between it and the cooling. */
  readonly baseline: number;
  readonly heating: number;
  /** Hz. */
  readonly rate: number;
  /** Standard deviation of the white noise of a reading, > 0. */
  readonly white: number;
  /** Exponentially correlated noise; several add up. */
  readonly correlated: readonly { readonly standardDeviation: number; readonly correlationTime: number }[];
  /** Standard deviation of the jet's temperature less the baseline's, > 0. */
  readonly offset: number;
  /** Standard deviation of the drift, K/s, > 0. */
  readonly drift: number;
}

/** ln of the time constant, amplitude, level of the baseline, jet's offset, drift over the time constant. */
const parameters = 5;

/**
 * Least standard uncertainty of ln tau that any unbiased estimator can have (Rao, 1945; Cramér, 1946), with what is
 * known of offset and drift beforehand counted as readings of them (Van Trees, 1968, section 2.4). The noise is taken as
 * known. Its correlation is taken in reading by reading: a Kalman filter of the noise (Kalman, 1960) whitens the
 * derivatives of the readings by the parameters, and their squares over the innovations' variance add up to the
 * information.
 */
export function timeConstantBound(design: BoundDesign): number {
  const { timeConstant, step, rate } = design;
  const information = new Float64Array(parameters * parameters);
  const filter = new NoiseFilter(design, information);
  const row = new Float64Array(parameters);
  const baselineReadings = Math.floor(design.baseline * rate);
  for (let i = 0; i < baselineReadings; i++) {
    row.fill(0);
    row[2] = 1;
    row[4] = (i / rate - design.baseline) / timeConstant;
    filter.take(row);
  }
  filter.wait(design.heating + design.from);
  const readings = Math.floor((design.to - design.from) * rate);
  for (let i = 0; i < readings; i++) {
    const t = design.from + i / rate;
    const fraction = Math.exp(-t / timeConstant);
    row[0] = (step * t * fraction) / timeConstant;
    row[1] = fraction;
    row[2] = 1;
    row[3] = 1;
    row[4] = (design.heating + t) / timeConstant;
    filter.take(row);
  }
  const add = (i: number, x: number) => {
    information[i * parameters + i] = (information[i * parameters + i] ?? 0) + x;
  };
  add(3, design.offset ** -2);
  add(4, (design.drift * timeConstant) ** -2);
  const first = Float64Array.of(1, 0, 0, 0, 0);
  if (!choleskyFactor(information, parameters)) return Number.POSITIVE_INFINITY;
  choleskyForward(information, parameters, first);
  return Math.sqrt(first.reduce((sum, x) => sum + x * x, 0));
}

/** Predicts the correlated noise of the next reading, for the derivatives as for readings: the filter is linear. */
class NoiseFilter {
  readonly #white: number;
  readonly #variances: readonly number[];
  readonly #times: readonly number[];
  readonly #keep: readonly number[];
  readonly #information: Float64Array;
  /** Covariance of the components before the next reading. */
  readonly #covariance: Float64Array;
  /** Predicted components of each derivative. */
  readonly #states: readonly Float64Array[];
  readonly #innovation = new Float64Array(parameters);

  constructor(design: BoundDesign, information: Float64Array) {
    this.#white = design.white ** 2;
    this.#variances = design.correlated.map(({ standardDeviation }) => standardDeviation ** 2);
    this.#times = design.correlated.map(({ correlationTime }) => correlationTime);
    this.#keep = this.#times.map((time) => Math.exp(-1 / (design.rate * time)));
    this.#information = information;
    const n = this.#times.length;
    this.#covariance = new Float64Array(n * n);
    for (let i = 0; i < n; i++) this.#covariance[i * n + i] = this.#variances[i] ?? 0;
    this.#states = Array.from({ length: parameters }, () => new Float64Array(n));
  }

  take(row: Float64Array): void {
    const n = this.#times.length;
    const covariance = this.#covariance;
    const gain = new Float64Array(n);
    let variance = this.#white;
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < n; k++) gain[i] = (gain[i] ?? 0) + (covariance[i * n + k] ?? 0);
      variance += gain[i] ?? 0;
    }
    const e = this.#innovation;
    this.#states.forEach((state, p) => {
      e[p] = (row[p] ?? 0) - state.reduce((sum, x) => sum + x, 0);
      for (let i = 0; i < n; i++) state[i] = (state[i] ?? 0) + ((gain[i] ?? 0) * (e[p] ?? 0)) / variance;
    });
    for (let p = 0; p < parameters; p++) {
      for (let q = 0; q <= p; q++) {
        const at = p * parameters + q;
        this.#information[at] = (this.#information[at] ?? 0) + ((e[p] ?? 0) * (e[q] ?? 0)) / variance;
      }
    }
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < n; k++) {
        covariance[i * n + k] = (covariance[i * n + k] ?? 0) - ((gain[i] ?? 0) * (gain[k] ?? 0)) / variance;
      }
    }
    this.#advance(this.#keep);
  }

  /** Lets time pass without readings, s. */
  wait(time: number): void {
    this.#advance(this.#times.map((memory) => Math.exp(-time / memory)));
  }

  #advance(keep: readonly number[]): void {
    const n = this.#times.length;
    for (let i = 0; i < n; i++) {
      const ki = keep[i] ?? 0;
      for (let k = 0; k < n; k++) {
        const fresh = i === k ? (this.#variances[i] ?? 0) * (1 - ki * ki) : 0;
        this.#covariance[i * n + k] = (this.#covariance[i * n + k] ?? 0) * ki * (keep[k] ?? 0) + fresh;
      }
      for (const state of this.#states) state[i] = (state[i] ?? 0) * ki;
    }
  }
}

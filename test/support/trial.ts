import { seededRandom } from '../../src/practice/random.ts';

/** What one simulated trial is made of. Times in s, temperatures in °C, differences and noise in K. */
export interface TrialSettings {
  /** Any integer. */
  readonly seed: number;
  /** True time constant of the cooling, s, > 0. */
  readonly timeConstant: number;
  /** Sampling rate, Hz, > 0. */
  readonly rate: number;
  /** Ambient seen by the sensor during the baseline. */
  readonly ambient: number;
  /** Temperature at which the heat goes off. */
  readonly peak: number;
  /** Length of the baseline, s; 0 starts the recording with the heating. */
  readonly baseline: number;
  /** Length of the heating, s; 0 starts the recording hot, at the peak. */
  readonly heating: number;
  /** Length of the cooling in time constants. */
  readonly coolingTimeConstants: number;
  /** Decay time of the hot air after the heat is off, s; 0 for a clean step. */
  readonly hotTail: number;
  /** Ambient during the cooling less ambient during the baseline, K. */
  readonly ambientShift: number;
  /** Drift of the zero, K/s. */
  readonly drift: number;
  /** Standard deviation of the white noise of a sample, K. */
  readonly whiteNoise: number;
  /** Standard deviation of the correlated noise, K. */
  readonly correlatedNoise: number;
  /** Correlation time of the correlated noise, s. */
  readonly correlationTime: number;
  /** Amplitude of the mains hum, K. */
  readonly hum: number;
  /** Mains frequency, Hz. */
  readonly mains: number;
  /** Converter step, K; 0 for none. */
  readonly step: number;
}

/** A quiet sphere trial: what a test or an example starts from. */
export const plainTrial: TrialSettings = {
  seed: 1,
  timeConstant: 40,
  rate: 100,
  ambient: 22,
  peak: 112,
  baseline: 20,
  heating: 40,
  coolingTimeConstants: 4,
  hotTail: 0,
  ambientShift: 0,
  drift: 0,
  whiteNoise: 0.05,
  correlatedNoise: 0,
  correlationTime: 0.5,
  hum: 0,
  mains: 50,
  step: 0,
};

/** A simulated recording. */
export interface Trial {
  readonly settings: TrialSettings;
  /** Readings, °C, evenly spaced by 1/rate from time 0. */
  readonly temperature: Float64Array;
  /** When the heat went on and off, s. */
  readonly heatOn: number;
  readonly heatOff: number;
}

/**
 * A lumped body that is heated towards a hot stream and then cools with one time constant, seen through
 * noise, hum, drift and a converter.
 *
 * The heating stream has the temperature that brings the body from ambient to the peak in the given time, with
 * the same time constant as the cooling. With a hot tail, the stream's excess dies away exponentially, and the
 * body follows it exactly: the sum of two exponentials that solves the lumped energy balance.
 *
 * @returns readings of the whole trial; the same settings give the same readings on every machine
 */
export function simulateTrial(settings: TrialSettings): Trial {
  const s = settings;
  const random = seededRandom(s.seed);
  const heatOn = s.baseline;
  const heatOff = s.baseline + s.heating;
  const total = heatOff + s.coolingTimeConstants * s.timeConstant;
  const n = Math.floor(total * s.rate) + 1;
  const dt = 1 / s.rate;
  const rise = s.peak - s.ambient;
  const streamExcess = s.heating > 0 ? rise / -Math.expm1(-s.heating / s.timeConstant) : 0;
  const phase = 2 * Math.PI * random.uniform();
  const memory = Math.exp(-dt / s.correlationTime);
  const kick = Math.sqrt(1 - memory * memory);
  let wander = random.normal();
  const temperature = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const t = i * dt;
    let body: number;
    if (t < heatOn) body = s.ambient;
    else if (t < heatOff) body = s.ambient + streamExcess * -Math.expm1(-(t - heatOn) / s.timeConstant);
    else body = cooling(t - heatOff, s, streamExcess);
    wander = memory * wander + kick * random.normal();
    const reading =
      body +
      s.drift * t +
      s.correlatedNoise * wander +
      s.whiteNoise * random.normal() +
      s.hum * Math.sin(2 * Math.PI * s.mains * t + phase);
    temperature[i] = s.step > 0 ? s.step * Math.round(reading / s.step) : reading;
  }
  return { settings, temperature, heatOn, heatOff };
}

/** Body temperature t seconds after the heat is off, with the stream's excess dying away. */
function cooling(t: number, s: TrialSettings, streamExcess: number): number {
  const final = s.ambient + s.ambientShift;
  const free = (s.peak - final) * Math.exp(-t / s.timeConstant);
  if (s.hotTail <= 0 || streamExcess === 0) return final + free;
  const ratio = s.hotTail / s.timeConstant;
  if (Math.abs(ratio - 1) < 1e-9) {
    return final + free + streamExcess * (t / s.timeConstant) * Math.exp(-t / s.timeConstant);
  }
  const tail =
    (streamExcess * ratio * (Math.exp(-t / s.hotTail) - Math.exp(-t / s.timeConstant))) / (ratio - 1);
  return final + free + tail;
}

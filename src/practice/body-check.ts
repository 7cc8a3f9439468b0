import type { BenchTrial } from './bench-types.ts';

/** More samples than a logger writes in 5000 s at 10 kHz are a slip. */
const mostSamples = 50_000_000;

function positive(name: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value))) {
    throw new RangeError(`${name} of a simulated trial is ${value}: give a finite number above 0`);
  }
}

function notNegative(name: string, value: number): void {
  if (!(value >= 0 && Number.isFinite(value))) {
    throw new RangeError(`${name} of a simulated trial is ${value}: give a finite number, 0 or more`);
  }
}

function finite(name: string, value: number): void {
  if (!Number.isFinite(value)) {
    throw new RangeError(`${name} of a simulated trial is ${value}: give a finite number`);
  }
}

function checkBody(trial: BenchTrial): void {
  const { body } = trial;
  positive('the diameter', body.diameter);
  positive('the density', body.density);
  positive('the specific heat', body.specificHeat);
  positive('the conductivity', body.conductivity);
  notNegative('the emissivity', body.emissivity);
  notNegative('the lag of the junction', body.junctionLag);
  if (body.melting !== null) notNegative('the lag after melting', body.melting.lag);
  for (const stem of body.stems) {
    positive('the diameter of a stem', stem.diameter);
    positive('the length of a stem', stem.length);
    positive('the density of a stem', stem.density);
    positive('the specific heat of a stem', stem.specificHeat);
    positive('the conductivity of a stem', stem.conductivity);
    notNegative('the coefficient about a stem', stem.coefficient);
  }
}

function checkAir(trial: BenchTrial): void {
  const { air } = trial;
  finite('the ambient temperature', air.ambient);
  finite('the offset of the jet', air.jetOffset);
  finite('the drift of the air', air.drift);
  finite('the temperature of the surroundings', air.surroundings);
  notNegative('the coefficient in the jet', air.coefficient);
  if (air.jetChange !== null) {
    finite('the time of the change of the jet', air.jetChange.at);
    notNegative('the factor of the change of the jet', air.jetChange.factor);
  }
  if (air.turbulence !== null) {
    notNegative('the standard deviation of the turbulence', air.turbulence.standardDeviation);
    positive('the correlation time of the turbulence', air.turbulence.correlationTime);
  }
  if (air.coefficientFluctuation !== null) {
    notNegative('the fluctuation of the coefficients', air.coefficientFluctuation.relative);
    positive('the correlation time of the coefficients', air.coefficientFluctuation.correlationTime);
  }
}

function checkHeatings(trial: BenchTrial): void {
  let last = Number.NEGATIVE_INFINITY;
  for (const heating of trial.heatings) {
    finite('the temperature of a hot stream', heating.stream);
    notNegative('the coefficient in a hot stream', heating.coefficient);
    notNegative('the rise of a hot stream', heating.rise);
    notNegative('the tail of a hot stream', heating.tail);
    notNegative('the wander of a hot stream', heating.wander);
    if (!(heating.from >= last && heating.to > heating.from && Number.isFinite(heating.to - heating.from))) {
      throw new RangeError(
        `a heating from ${heating.from} s to ${heating.to} s: give heatings in order, each ending after it started`,
      );
    }
    last = heating.to;
  }
}

/**
 * Refuses a trial that cannot be simulated.
 *
 * @throws RangeError that names the number and what it may be
 */
export function checkBenchTrial(trial: BenchTrial): void {
  checkBody(trial);
  checkAir(trial);
  if (trial.heatings.length === 0) {
    throw new RangeError('a simulated trial has no heating: give one at least, the cooling follows the last');
  }
  checkHeatings(trial);
  positive('the length', trial.length);
  positive('the sampling rate', trial.logger.rate);
  if (trial.length * trial.logger.rate > mostSamples) {
    throw new RangeError(
      `a simulated trial of ${trial.length} s at ${trial.logger.rate} Hz has more than ${mostSamples} samples: ` +
        'make it shorter or sample it more slowly',
    );
  }
}

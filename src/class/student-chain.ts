import {
  type AirState,
  airDensity,
  airState,
  type CorrelationAccuracy,
  exactOverLumped,
  findCorrelation,
  jetDecay,
  type LinePressure,
  type MeteredJet,
  type MeterKind,
  type NusseltCorrelation,
  type Prediction,
  type PredictionInput,
  solidState,
} from '../prediction/index.ts';
import type { ChainChoices, MeterChoice } from './chain-choices.ts';
import type { Calculated } from './hypotheses.ts';
import { predictedUncertainties } from './student-budget.ts';

/** What is known of a condition that values were worked from. */
export interface PredictedFacts {
  readonly input: PredictionInput;
  /** Of the same input. */
  readonly prediction: Prediction;
  readonly accuracy: CorrelationAccuracy;
  /** Unit of the meter's scale: m³ and s; null where it does not count volume, or nobody knows. */
  readonly scale: { readonly volume: number; readonly time: number } | null;
  /** Whether the uncertainty of the reading comes from limits of error. */
  readonly readingHasLimits: boolean;
}

/** 0 °C, K. */
const freezing = 273.15;
const gravity = 9.806_65;

/** Properties that a chain takes from tables, once for a condition. */
interface Tables {
  readonly stream: AirState;
  readonly film: AirState;
  readonly correlation: NusseltCorrelation | null;
  readonly natural: NusseltCorrelation | null;
  readonly solid: ReturnType<typeof solidState>;
}

function tablesOf({ input, prediction }: PredictedFacts): Tables {
  const { air, surfaceTemperature, correlation } = prediction;
  const middle = (air.temperature + surfaceTemperature) / 2;
  return {
    stream: air,
    film: airState(middle, air.pressure, air.vapourFraction),
    correlation: findCorrelation(correlation.forced) ?? null,
    natural: findCorrelation(correlation.natural) ?? null,
    solid: solidState(input.body.material, surfaceTemperature),
  };
}

/**
 * The chain from flow to time constant as a student works it: flow, speed, Reynolds number, Nusselt number,
 * coefficient, time constant, Biot number. Air, meter and correlation are those of the prediction.
 */
export function chainCalculator(): (facts: PredictedFacts, choices: ChainChoices) => Calculated {
  const known = new Map<PredictedFacts, Tables>();
  return (facts, choices) => {
    const tables = known.get(facts) ?? tablesOf(facts);
    known.set(facts, tables);
    return chainValues(facts, tables, choices);
  };
}

function chainValues(facts: PredictedFacts, tables: Tables, choices: ChainChoices): Calculated {
  const { input, prediction } = facts;
  const { own } = choices;
  const still = input.flow.kind === 'still';
  const diameter = input.body.diameter * choices.diameter;
  const air = airFor(tables, choices, still);
  const worked = still ? 0 : reynoldsOf(facts, air, diameter, choices);
  const reynolds = own.reynolds ?? worked;
  const nusseltWorked = still
    ? naturalNusselt(facts, tables, diameter)
    : (tables.correlation?.nusselt({
        reynolds,
        rayleigh: 0,
        prandtl: air.prandtl,
        viscosityRatio: ratioOf(prediction.viscosityRatio, choices.viscosityRatio),
      }) ?? Number.NaN);
  const capacity = capacityOf(facts, tables, diameter, choices);
  const convectionFrom = (nusselt: number) =>
    (nusselt * (choices.nusseltConductivity === 'air' ? air.conductivity : tables.solid.conductivity)) /
    (choices.nusseltLength === 'diameter' ? diameter : diameter / 2);
  const convectionWorked = convectionFrom(own.nusselt ?? nusseltWorked);
  const totalWorked = convectionWorked + lossesBeside(prediction, convectionWorked, choices);
  const back = own.measured === null ? null : capacity / own.measured;
  const total = own.coefficient ?? totalWorked;
  const lumped = capacity / total;
  const sphere = input.body.shape === 'sphere';
  const inside =
    choices.inside === 'first-mode' && sphere
      ? exactOverLumped((total * diameter) / (2 * tables.solid.conductivity))
      : 1;
  const reported = choices.coefficient === 'total' ? totalWorked : convectionWorked;
  const forBiot = back ?? own.coefficient ?? reported;
  const predicted = lumped * inside;
  const biotConductivity = choices.biotConductivity === 'body' ? tables.solid.conductivity : air.conductivity;
  return {
    // What stands here as the group has it explains nothing.
    reynolds: still || own.reynolds !== null ? null : finite(worked),
    nusselt:
      own.nusselt !== null
        ? null
        : finite(back === null ? nusseltWorked : (back * diameter) / air.conductivity),
    'heat-transfer-coefficient': own.coefficient !== null ? null : finite(back ?? reported),
    predicted: finite(predicted),
    biot: finite((forBiot * biotLength(input, diameter, choices)) / biotConductivity),
    ...predictedUncertainties(facts, predicted, choices.uncertainty),
  };
}

function finite(value: number): number | null {
  return Number.isFinite(value) && value > 0 ? value : null;
}

function airFor(
  { stream, film, correlation }: Tables,
  { properties }: ChainChoices,
  still: boolean,
): AirState {
  const cited = still || correlation?.basis === 'film';
  return (properties === 'as-cited') === cited ? film : stream;
}

function ratioOf(ratio: number, choice: ChainChoices['viscosityRatio']): number {
  if (choice === 'left-out') return 1;
  return choice === 'inverted' ? 1 / ratio : ratio;
}

function reynoldsOf(facts: PredictedFacts, air: AirState, diameter: number, choices: ChainChoices): number {
  const { flow } = facts.input;
  const speed = flow.kind === 'jet' ? jetSpeed(facts, flow, choices) : flow.kind === 'speed' ? flow.speed : 0;
  const length = choices.reynoldsLength === 'diameter' ? diameter : diameter / 2;
  return (air.density * speed * length) / air.viscosity;
}

/** Speed at the body, m/s, from the reading of the meter. */
function jetSpeed(
  { input, prediction }: PredictedFacts,
  { meter, nozzle, temperature }: MeteredJet,
  choices: ChainChoices,
): number {
  const { line, reference, kind } = meter;
  const reading = kind === 'mass' ? meter.reading : (meter.reading * choices.flowVolume) / choices.flowTime;
  const kelvin = line.temperature;
  const celsius = choices.meter === 'celsius' ? kelvin / (kelvin - freezing) : 1;
  const scaleTemperature =
    choices.meter === 'other-standard' ? otherStandard(reference.temperature) : reference.temperature;
  const volume = mouthVolume(kind, reading, choices.meter, {
    line: airDensity(kelvin, linePressure(line.pressure, input.room.pressure, choices.meter)) * celsius,
    scale: airDensity(scaleTemperature, reference.pressure),
    // Expanded to the room, before air of the room is mixed in.
    mouth: airDensity(temperature, input.room.pressure, prediction.air.vapourFraction),
  });
  const d = choices.nozzle === 'body' ? input.body.diameter : nozzle.diameter;
  const decay = choices.decay ? jetDecay(nozzle.standOff / nozzle.diameter, nozzle.decayConstant) : 1;
  const profile = choices.profile ? nozzle.profileFactor : 1;
  return (profile * decay * volume) / (areaOverSquare[choices.nozzle] * d * d);
}

const areaOverSquare: Readonly<Record<ChainChoices['nozzle'], number>> = {
  circle: Math.PI / 4,
  body: Math.PI / 4,
  'pi-d-squared': Math.PI,
  radius: Math.PI / 16,
};

/** Absolute, Pa, but for the slip that leaves the room's pressure out. */
function linePressure(pressure: LinePressure, room: number, meter: MeterChoice): number {
  if ('absolutePressure' in pressure) return pressure.absolutePressure;
  return meter === 'gauge' ? pressure.gaugePressure : room + pressure.gaugePressure;
}

/** K. */
function otherStandard(temperature: number): number {
  return Math.abs(temperature - freezing - 20) < 3 ? freezing : freezing + 20;
}

/** Volume flow in the nozzle's mouth, m³/s; densities of air in kg/m³. */
function mouthVolume(
  kind: MeterKind,
  reading: number,
  choice: MeterChoice,
  density: { readonly line: number; readonly scale: number; readonly mouth: number },
): number {
  if (choice === 'as-actual') return reading;
  if (choice === 'as-standard') return (reading * density.scale) / density.mouth;
  if (choice === 'root-left-out') return (reading * density.line) / density.mouth;
  const expanded = choice === 'not-expanded' ? density.line : density.mouth;
  return massFlow(kind, reading, density) / expanded;
}

function massFlow(
  kind: MeterKind,
  reading: number,
  { line, scale }: { readonly line: number; readonly scale: number },
): number {
  switch (kind) {
    case 'variable-area':
      return reading * Math.sqrt(scale * line);
    case 'thermal-mass':
      return reading * scale;
    case 'volumetric':
      return reading * line;
    case 'mass':
      return reading;
  }
}

/** In still air; the properties are those of the film. */
function naturalNusselt(
  { input, prediction }: PredictedFacts,
  { film, natural }: Tables,
  diameter: number,
): number {
  const excess = prediction.surfaceTemperature - input.room.temperature;
  const kinematic = film.viscosity / film.density;
  const rayleigh =
    (gravity * Math.abs(excess) * diameter ** 3 * film.prandtl) / (film.temperature * kinematic ** 2);
  return natural?.nusselt({ reynolds: 0, rayleigh, prandtl: film.prandtl, viscosityRatio: 1 }) ?? Number.NaN;
}

/** Heat capacity over the area that a student divides by, J/(m² K). */
function capacityOf(
  { input: { body } }: PredictedFacts,
  { solid }: Tables,
  diameter: number,
  choices: ChainChoices,
): number {
  const weighed = body.mass !== null && choices.mass === 'weighed';
  const density = weighed ? (body.mass ?? 0) / ((Math.PI / 6) * diameter ** 3) : solid.density;
  const specificHeat = solid.specificHeat * choices.specificHeatUnit;
  return density * choices.massUnit * specificHeat * lengthOf(body.shape, diameter, choices.length);
}

/** m. */
function lengthOf(shape: 'sphere' | 'wire', diameter: number, length: ChainChoices['length']): number {
  switch (length) {
    case 'volume-to-area':
      return diameter / (shape === 'sphere' ? 6 : 4);
    case 'radius':
      return diameter / 2;
    case 'diameter':
      return diameter;
    // π/6 D³ over π/4 D²; of a wire, π/4 D² over D, for one metre of it.
    case 'volume-to-projected-area':
      return shape === 'sphere' ? (2 / 3) * diameter : (Math.PI / 4) * diameter;
  }
}

function biotLength(
  { body }: PredictionInput,
  diameter: number,
  { biotLength: length, length: other }: ChainChoices,
): number {
  return lengthOf(body.shape, diameter, length === 'as-in-time-constant' ? other : length);
}

/** Radiation and wires as a coefficient about the body; what a wire carries goes with the root of the coefficient. */
function lossesBeside(
  { heatTransferCoefficient: h }: Prediction,
  convection: number,
  { losses }: ChainChoices,
): number {
  if (losses === 'none') return 0;
  if (losses === 'radiation') return h.radiation;
  return h.radiation + h.stem * Math.sqrt(convection / h.convection);
}

import type { ChainChoices, MeterChoice } from './chain-choices.ts';
import { choosing, type Slip } from './hypotheses.ts';
import type { PredictedFacts } from './student-chain.ts';

type PredictedSlip = Slip<ChainChoices, PredictedFacts>;

const always = () => true;

function when(
  possible: (facts: PredictedFacts) => boolean,
  change: Partial<ChainChoices>,
): PredictedSlip['apply'] {
  const choose = choosing(change);
  return (choices, facts) => (possible(facts) ? choose(choices) : null);
}

function budget(
  possible: (facts: PredictedFacts) => boolean,
  change: Partial<ChainChoices['uncertainty']>,
): PredictedSlip['apply'] {
  const choose = choosing(change);
  return (choices, facts) => {
    const made = possible(facts) ? choose(choices.uncertainty) : null;
    return made === null ? null : { ...choices, uncertainty: made };
  };
}

function metered({ input: { flow } }: PredictedFacts, ...kinds: readonly string[]): boolean {
  return flow.kind === 'jet' && kinds.includes(flow.meter.kind);
}

function meter(choice: MeterChoice, ...kinds: readonly string[]): PredictedSlip['apply'] {
  return when((facts) => metered(facts, ...kinds), { meter: choice });
}

const moving = ({ input }: PredictedFacts) => input.flow.kind !== 'still';
const jet = ({ input }: PredictedFacts) => input.flow.kind === 'jet';
const sphere = ({ input }: PredictedFacts) => input.body.shape === 'sphere';

function scaleOf({ scale }: PredictedFacts, of: 'volume' | 'time', unit: number): boolean {
  return scale !== null && Math.abs(scale[of] / unit - 1) < 0.01;
}

const litre = 1e-3;
const cubicFoot = 0.3048 ** 3;
const [minute, hour] = [60, 3600];
const inchOverMillimetre = 25.4;

const flowSlips: readonly PredictedSlip[] = [
  {
    code: 'minute-for-second',
    words: 'the flow per minute was taken for the flow per second',
    odds: 0.05,
    apply: when((facts) => scaleOf(facts, 'time', minute), { flowTime: 1 / minute }),
  },
  {
    code: 'hour-for-second',
    words: 'the flow per hour was taken for the flow per second',
    odds: 0.04,
    apply: when((facts) => scaleOf(facts, 'time', hour), { flowTime: 1 / hour }),
  },
  {
    code: 'hour-for-minute',
    words: 'the flow per hour was taken for the flow per minute',
    odds: 0.03,
    apply: when((facts) => scaleOf(facts, 'time', hour), { flowTime: minute / hour }),
  },
  {
    code: 'minute-for-hour',
    words: 'the flow per minute was taken for the flow per hour',
    odds: 0.03,
    apply: when((facts) => scaleOf(facts, 'time', minute), { flowTime: hour / minute }),
  },
  {
    code: 'cubic-feet',
    words: 'cubic feet were taken for cubic metres',
    odds: 0.04,
    apply: when((facts) => scaleOf(facts, 'volume', cubicFoot), { flowVolume: 1 / cubicFoot }),
  },
  {
    code: 'litres',
    words: 'litres were taken for cubic metres',
    odds: 0.03,
    apply: when((facts) => scaleOf(facts, 'volume', litre), { flowVolume: 1 / litre }),
  },
  {
    code: 'pressure-correction-left-out',
    words:
      'the reading of the meter was taken as it is for the flow in the nozzle, without the correction for pressure',
    odds: 0.08,
    apply: meter('as-actual', 'variable-area', 'thermal-mass', 'volumetric'),
  },
  {
    code: 'standard-for-actual',
    words:
      'the reading was taken as a flow at the condition of the scale, without the root for the pressure in the meter',
    odds: 0.06,
    apply: meter('as-standard', 'variable-area'),
  },
  {
    code: 'root-left-out',
    words: 'the ratio of densities was used itself, not its square root',
    odds: 0.04,
    apply: meter('root-left-out', 'variable-area'),
  },
  {
    code: 'gauge-for-absolute',
    words: 'gauge pressure was put in for absolute pressure',
    odds: 0.08,
    apply: when(
      ({ input: { flow } }) =>
        flow.kind === 'jet' &&
        ['variable-area', 'volumetric'].includes(flow.meter.kind) &&
        'gaugePressure' in flow.meter.line.pressure,
      { meter: 'gauge' },
    ),
  },
  {
    code: 'celsius-for-kelvin',
    words: 'the temperature in the meter was put in as degrees Celsius, not kelvin',
    odds: 0.03,
    apply: meter('celsius', 'variable-area', 'volumetric'),
  },
  {
    code: 'other-standard',
    words: 'another standard temperature was taken than that of the scale',
    odds: 0.04,
    apply: meter('other-standard', 'variable-area', 'thermal-mass'),
  },
  {
    code: 'not-expanded',
    words: 'the volume flow inside the meter was taken for that in the nozzle, at lower pressure',
    odds: 0.04,
    apply: meter('not-expanded', 'variable-area'),
  },
  {
    code: 'nozzle-area-pi-d-squared',
    words: 'π d² was taken for the area of the nozzle',
    odds: 0.04,
    apply: when(jet, { nozzle: 'pi-d-squared' }),
  },
  {
    code: 'nozzle-radius',
    words: "the nozzle's radius was put in for its diameter",
    odds: 0.03,
    apply: when(jet, { nozzle: 'radius' }),
  },
  {
    code: 'body-for-nozzle',
    words: "the body's diameter was put in for that of the nozzle",
    odds: 0.02,
    apply: when(jet, { nozzle: 'body' }),
  },
  {
    code: 'decay-left-out',
    words: 'the speed in the nozzle was used, though the jet has slowed down at the body',
    odds: 0.06,
    apply: when(jet, { decay: false }),
  },
];

const bodySlips: readonly PredictedSlip[] = [
  {
    code: 'radius-for-diameter',
    words: "the body's radius was put in for its diameter, all the way",
    odds: 0.05,
    apply: when(always, { diameter: 0.5 }),
  },
  {
    code: 'diameter-doubled',
    words: 'twice the diameter was put in, all the way',
    odds: 0.02,
    apply: when(always, { diameter: 2 }),
  },
  {
    code: 'millimetres-as-inches',
    words: 'the diameter in millimetres was read as inches',
    odds: 0.01,
    apply: when(always, { diameter: inchOverMillimetre }),
  },
  {
    code: 'inches-as-millimetres',
    words: 'the diameter in inches was read as millimetres',
    odds: 0.02,
    apply: when(always, { diameter: 1 / inchOverMillimetre }),
  },
  {
    code: 'millimetres-as-centimetres',
    words: 'the diameter in millimetres was read as centimetres',
    odds: 0.02,
    apply: when(always, { diameter: 10 }),
  },
  {
    code: 'radius-in-reynolds',
    words: 'the Reynolds number was made with the radius',
    odds: 0.04,
    apply: when(moving, { reynoldsLength: 'radius' }),
  },
  {
    code: 'film-properties',
    words:
      'air was taken at the other temperature than the correlation asks for: at that of the film in place of the free stream, or the reverse',
    odds: 0.06,
    apply: when(moving, { properties: 'other' }),
  },
  {
    code: 'viscosity-ratio-left-out',
    words: 'the ratio of viscosities was left out',
    odds: 0.06,
    apply: when(moving, { viscosityRatio: 'left-out' }),
  },
  {
    code: 'viscosity-ratio-inverted',
    words: 'the ratio of viscosities was put in upside down',
    odds: 0.03,
    apply: when(moving, { viscosityRatio: 'inverted' }),
  },
  {
    code: 'radius-in-nusselt',
    words: 'the coefficient was taken from the Nusselt number with the radius',
    odds: 0.03,
    apply: when(always, { nusseltLength: 'radius' }),
  },
  {
    code: 'body-conductivity-in-nusselt',
    words: "the body's conductivity was put in for that of air",
    odds: 0.02,
    apply: when(always, { nusseltConductivity: 'body' }),
  },
  {
    code: 'radius-for-volume-to-area',
    words: 'the radius was taken for volume over area, a third of it',
    odds: 0.06,
    apply: when(sphere, { length: 'radius' }),
  },
  {
    code: 'diameter-for-volume-to-area',
    words: 'the diameter was taken for volume over area, a sixth of it',
    odds: 0.04,
    apply: when(sphere, { length: 'diameter' }),
  },
  {
    code: 'projected-area',
    words: 'the projected area was taken for the surface',
    odds: 0.04,
    apply: when(always, { length: 'volume-to-projected-area' }),
  },
  {
    code: 'grams-as-kilograms',
    words: 'grams were taken for kilograms',
    odds: 0.02,
    apply: when(always, { massUnit: 1000 }),
  },
  {
    code: 'kilojoules-as-joules',
    words: 'a specific heat in kJ/(kg K) was taken for J/(kg K)',
    odds: 0.02,
    apply: when(always, { specificHeatUnit: 1e-3 }),
  },
  {
    code: 'radiation-left-out',
    words: 'radiation was left out, though the air is still',
    odds: 0.08,
    apply: when((facts) => !moving(facts), { losses: 'none', coefficient: 'convection' }),
  },
  {
    code: 'biot-with-diameter',
    words: 'the Biot number was made with the diameter, not with volume over area',
    odds: 0.08,
    apply: when(always, { biotLength: 'diameter' }),
  },
  {
    code: 'biot-with-radius',
    words: 'the Biot number was made with the radius, not with volume over area',
    odds: 0.06,
    apply: when(always, { biotLength: 'radius' }),
  },
  {
    code: 'air-conductivity-in-biot',
    words: 'the conductivity of air was put into the Biot number',
    odds: 0.04,
    apply: when(always, { biotConductivity: 'air' }),
  },
];

const budgetSlips: readonly PredictedSlip[] = [
  {
    code: 'accuracy-as-standard',
    words: 'the accuracy of the correlation was taken for one standard uncertainty, not for an expanded one',
    odds: 0.08,
    apply: budget(({ accuracy }) => accuracy.coverageFactor > 1, { correlationAs: 'standard' }),
  },
  {
    code: 'limits-as-standard',
    words: 'limits of error were taken for standard uncertainties, without dividing by √3',
    odds: 0.05,
    apply: budget(({ readingHasLimits }) => readingHasLimits, { limits: 'as-they-are' }),
  },
  {
    code: 'uncertainties-added',
    words: 'the parts of the uncertainty were added up, not their squares',
    odds: 0.06,
    apply: budget(always, { sum: 'absolute' }),
  },
  {
    code: 'prediction-not-expanded',
    words: 'the standard uncertainty of the prediction was given as the expanded one',
    odds: 0.06,
    apply: budget(always, { expandedBy: 'nothing' }),
  },
  {
    code: 'prediction-expanded-as-standard',
    words: 'the expanded uncertainty of the prediction was given as the standard one',
    odds: 0.05,
    apply: budget(always, { standardIs: 'expanded' }),
  },
];

/** What goes wrong between a condition and its predicted time constant. */
export const predictedSlips: readonly PredictedSlip[] = [...flowSlips, ...bodySlips, ...budgetSlips];

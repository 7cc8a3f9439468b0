import type { ChainChoices } from './chain-choices.ts';
import { choosing } from './hypotheses.ts';
import { type PredictedSlip, when } from './predicted-slip.ts';
import { flowSlips } from './slips-flow.ts';
import type { PredictedFacts } from './student-chain.ts';

const always = () => true;
const moving = ({ input }: PredictedFacts) => input.flow.kind !== 'still';
const sphere = ({ input }: PredictedFacts) => input.body.shape === 'sphere';
const inchOverMillimetre = 25.4;

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

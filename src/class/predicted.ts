import type { SubmittedQuantity } from '../experiment/index.ts';
import { type ChainChoices, taughtChain } from './chain-choices.ts';
import { type Catalogue, choosing, type Freedom, type Slip, type Variant } from './hypotheses.ts';
import { predictedSlips } from './slips-predicted.ts';
import { chainCalculator, type PredictedFacts } from './student-chain.ts';
import type { SubmittedValue } from './submission.ts';

type Freely = readonly Variant<Partial<ChainChoices>>[];

/** What leaves the body beside convection, and which coefficient is handed in: each is taught somewhere. */
const losses: Freely = [
  { choices: { losses: 'all', coefficient: 'total' }, odds: 1 },
  { choices: { losses: 'none', coefficient: 'convection' }, odds: 1 },
  { choices: { losses: 'radiation', coefficient: 'total' }, odds: 0.5 },
  { choices: { losses: 'all', coefficient: 'convection' }, odds: 0.5 },
  { choices: { losses: 'radiation', coefficient: 'convection' }, odds: 0.3 },
];
const insides: Freely = [
  { choices: {}, odds: 1 },
  { choices: { inside: 'first-mode' }, odds: 0.3 },
];
const masses: Freely = [
  { choices: {}, odds: 1 },
  { choices: { mass: 'density' }, odds: 0.5 },
];

/** Beside the correlation the rest of the budget is small, and often left out. */
const budgets: Freely = [
  { choices: {}, odds: 1 },
  { choices: { uncertainty: { ...taughtChain.uncertainty, counted: 'correlation' } }, odds: 0.7 },
];

/** In still air radiation carries as much as convection does: what leaves it out is not right. */
function lossesFor(still: boolean): Freely {
  return still ? losses.filter(({ choices }) => choices.losses !== 'none') : losses;
}

/** Another table of air properties, another handbook's specific heat. */
const predictedFreedom: Freedom = {
  reynolds: 0.012,
  nusselt: 0.01,
  'heat-transfer-coefficient': 0.015,
  predicted: 0.02,
  biot: 0.04,
  'predicted-standard-uncertainty': 0.1,
  'predicted-expanded-uncertainty': 0.1,
};

/** In the first of these, pairs of slips are tried. */
const variantsWithPairs = losses.length;

/**
 * What to try with a condition: right ways of working, slips, and working on from what the group handed in itself.
 *
 * @param submitted by the same group about the condition and its recording
 * @param uncertain whether the uncertainty of the prediction was handed in
 */
export function predictedCatalogue(
  { input: { flow, body } }: PredictedFacts,
  submitted: readonly SubmittedValue[],
  uncertain: boolean,
): Catalogue<ChainChoices, PredictedFacts> {
  const still = flow.kind === 'still';
  const variants = (body.mass === null ? masses.slice(0, 1) : masses).flatMap((mass) =>
    insides.flatMap((inside) =>
      lossesFor(still).flatMap((loss) =>
        (uncertain ? budgets : budgets.slice(0, 1)).map((budget) => ({
          choices: { ...taughtChain, ...loss.choices, ...inside.choices, ...mass.choices, ...budget.choices },
          odds: loss.odds * inside.odds * mass.odds * budget.odds,
        })),
      ),
    ),
  );
  return {
    variants,
    slips: [...ownValues(submitted), ...predictedSlips],
    pairsIn: variantsWithPairs,
    calculate: chainCalculator(),
    freedom: () => predictedFreedom,
  };
}

/** Whether a code stands for working on from what the group handed in itself. */
export function isOwnValue(code: string): boolean {
  return code.startsWith('from-own-');
}

/** Working on from an own value is no slip: where that value is off, it is off by itself. */
const ownOdds = 0.5;

function ownValues(submitted: readonly SubmittedValue[]): Slip<ChainChoices, PredictedFacts>[] {
  const value = (...quantities: readonly SubmittedQuantity[]) => {
    const found = submitted.find((one) => quantities.includes(one.quantity) && one.value > 0);
    return found?.value ?? null;
  };
  const from = (code: string, words: string, odds: number, own: Partial<ChainChoices['own']>) => ({
    code,
    words,
    odds,
    apply: (choices: ChainChoices) => {
      const made = choosing(own)(choices.own);
      return made === null ? null : { ...choices, own: made };
    },
  });
  const [reynolds, nusselt] = [value('reynolds'), value('nusselt')];
  const coefficient = value('heat-transfer-coefficient');
  const measured = value('origin', 'intercept', 'point');
  return [
    ...(reynolds === null
      ? []
      : [
          from('from-own-reynolds', "the group's own Reynolds number was worked on from", ownOdds, {
            reynolds,
          }),
        ]),
    ...(nusselt === null
      ? []
      : [
          from('from-own-nusselt', "the group's own Nusselt number was worked on from", ownOdds, { nusselt }),
        ]),
    ...(coefficient === null
      ? []
      : [
          from('from-own-coefficient', "the group's own coefficient was worked on from", ownOdds, {
            coefficient,
          }),
        ]),
    ...(measured === null
      ? []
      : [
          from('from-measured', 'the coefficient was worked back from the measured time constant', 0.05, {
            measured,
          }),
        ]),
  ];
}

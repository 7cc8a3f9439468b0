import {
  correlations,
  type FlowNumbers,
  mixedNusselt,
  type NusseltCorrelation,
} from '../../src/prediction/index.ts';
import { jetRange, usualDecayConstant } from '../../src/prediction/jet.ts';
import { drawnNumber } from './draw-correlation.ts';
import { block, code, page, table } from './markdown.ts';

const numberNames: readonly (readonly [keyof FlowNumbers, string])[] = [
  ['reynolds', 'Reynolds number Re'],
  ['rayleigh', 'Rayleigh number Ra'],
  ['prandtl', 'Prandtl number Pr'],
  ['viscosityRatio', 'viscosity ratio µ/µs'],
];

const bases = {
  'free-stream': 'the free stream',
  film: 'the film: the mean of free stream and surface',
} as const;

const standings = {
  confirmed: 'the constants were held against a printed source',
  unconfirmed:
    'the constants were not held against the source; used only when asked for, and then with the remark `source-unconfirmed`',
} as const;

/** The page of correlations, from the table of the source; the drawings stand beside it. */
export function correlationsPage(): string {
  return page([
    '# Correlations',
    'Correlations of the Nusselt number Nu = h D/k, with the diameter D in Nu, Re and Ra; h is the heat transfer coefficient, k the conductivity of the air, µ its viscosity in the free stream and µs at the surface. The first of each geometry and kind of convection is used where none is asked for; another one is named under `prediction` in the [experiment file](experiment-file.md#prediction). The drawings are for air (Pr 0.71, µ/µs 1): a full line within the range of the source, dashes outside it.',
    table(
      ['id', 'geometry', 'convection', 'source'],
      correlations.map(({ id, geometry, convection, citation }) => [
        `[${code(id)}](#${id})`,
        geometry,
        convection,
        citation,
      ]),
    ),
    ...correlations.flatMap(parts),
    '## Forced and natural convection together',
    block('(Nu - Nu0)³ = (Nu_forced - Nu0)³ + (Nu_natural - Nu0)³'),
    `Nu0 is what is left when nothing moves: ${mixedNusselt('sphere', 0, 0)} for a sphere, ${mixedNusselt('cylinder', 0, 0)} for a wire. The cube is Churchill's for assisting flow (AIChE J. 23 (1977) 10; Incropera et al., 6th ed., Eq. 9.64); taking off Nu0 first is not confirmed against the paper.`,
    '## Before and beside convection',
    'What else a prediction is made of; these are no correlations that can be chosen.',
    table(
      ['what', 'formula', 'where it holds', 'source'],
      [
        [
          'mass flow by a float in a tube',
          code('q_m = Q (ρ_scale ρ_line)^1/2'),
          'the usual dense float, whose buoyancy in gas is nothing',
          'VDI/VDE 3513',
        ],
        [
          'mean speed in the mouth',
          code('U = q_m/(ρ π d²/4)'),
          `up to ${jetRange.mach} times the speed of sound`,
          'continuity',
        ],
        [
          'speed on the axis at distance x',
          code('U_x/U = min(1, B d/x)'),
          `x up to ${jetRange.standOff} d, jet Reynolds number from ${jetRange.reynolds}; B ${usualDecayConstant.value} ± ${usualDecayConstant.standardUncertainty} where none is stated`,
          'Hussein, Capp & George, J. Fluid Mech. 258 (1994) 31; Panchapakesan & Lumley, J. Fluid Mech. 246 (1993) 197; both not confirmed',
        ],
        [
          'radiation as a coefficient',
          code('h_r = ε σ (Ts² + Tr²)(Ts + Tr)'),
          'a small grey body in large surroundings',
          'Incropera et al., 6th ed., Eq. 1.9',
        ],
        [
          'heat through a wire',
          code('G = (h P k A)^1/2 tanh(m L), m² = h P/(k A)'),
          'a thin round wire; tanh is 1 for a long one',
          'Incropera et al., 6th ed., Table 3.4, cases B and D',
        ],
      ],
    ),
  ]);
}

function parts(correlation: NusseltCorrelation): string[] {
  const { id, formula, geometry, convection, basis, citation, status, range } = correlation;
  const asked = numberNames.flatMap(([key, name]) => {
    const limits = range[key];
    return limits === undefined ? [] : [[name, rangeWords(limits)] as const];
  });
  return [
    `## ${id}`,
    `${convection === 'forced' ? 'Forced' : 'Natural'} convection, ${geometry === 'sphere' ? 'sphere' : 'cylinder across the flow'}.`,
    block(formula.replaceAll('; ', '\n')),
    table(
      ['', ''],
      [...asked, ['properties of', bases[basis]], ['source', citation], ['standing', standings[status]]],
    ),
    `![Nusselt number against ${drawnNumber(correlation).words} for air, on logarithmic axes.](correlations/${id}.svg)`,
  ];
}

function rangeWords([low, high]: readonly [number, number]): string {
  const written = (value: number) =>
    value >= 1e4 ? value.toExponential().replace('e+', 'e') : String(value);
  if (!Number.isFinite(high)) return `from ${written(low)}`;
  return low === 0 ? `up to ${written(high)}` : `${written(low)} to ${written(high)}`;
}

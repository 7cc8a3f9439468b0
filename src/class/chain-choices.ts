/** How a student works from the flow to the time constant. Each slip changes one of these. */
export interface ChainChoices {
  readonly meter: MeterChoice;
  /** What a unit of volume and a unit of time on the meter's scale are taken for, over what they are. */
  readonly flowVolume: number;
  readonly flowTime: number;
  /** `pi-d-squared`: π d²; `radius`: π/4 r²; `body`: the body's diameter in place of the nozzle's. */
  readonly nozzle: 'circle' | 'pi-d-squared' | 'radius' | 'body';
  /** Whether the jet's decay on its way to the body is counted. */
  readonly decay: boolean;
  /** Whether the profile of the jet is counted. */
  readonly profile: boolean;
  /** Air at the temperature that the correlation asks for, or at the other one. */
  readonly properties: 'as-cited' | 'other';
  /** What the body's diameter is taken for, over what it is. */
  readonly diameter: number;
  readonly reynoldsLength: 'diameter' | 'radius';
  readonly viscosityRatio: 'counted' | 'left-out' | 'inverted';
  readonly nusseltLength: 'diameter' | 'radius';
  readonly nusseltConductivity: 'air' | 'body';
  /** What leaves the body beside convection. */
  readonly losses: 'none' | 'radiation' | 'all';
  /** Which coefficient is handed in. */
  readonly coefficient: 'convection' | 'total';
  /** Length in the time constant. */
  readonly length: 'volume-to-area' | 'radius' | 'diameter' | 'volume-to-projected-area';
  readonly mass: 'weighed' | 'density';
  /** What the units of mass and specific heat are taken for, over what they are. */
  readonly massUnit: number;
  readonly specificHeatUnit: number;
  /** Whether the body's own temperature profile is counted. */
  readonly inside: 'lumped' | 'first-mode';
  readonly biotLength: 'as-in-time-constant' | 'radius' | 'diameter';
  readonly biotConductivity: 'body' | 'air';
  /** Values that the group handed in and worked on from; null where it worked from what is calculated here. */
  readonly own: {
    readonly reynolds: number | null;
    readonly nusselt: number | null;
    readonly coefficient: number | null;
    /** Measured time constant, s, that the coefficient is worked back from. */
    readonly measured: number | null;
  };
  readonly uncertainty: BudgetChoices;
}

/**
 * What becomes of the reading. `as-actual`: taken as the volume flow in the nozzle; `as-standard`: as volume at the
 * scale's own condition; `gauge`: gauge pressure in place of absolute; `root-left-out`: the ratio of densities itself;
 * `celsius`: degrees Celsius in place of kelvin; `other-standard`: a scale at 20 °C in place of its own temperature (0 °C
 * where that is 20 °C); `not-expanded`: the volume in the meter, at the meter's pressure.
 */
export type MeterChoice =
  | 'right'
  | 'as-actual'
  | 'as-standard'
  | 'gauge'
  | 'root-left-out'
  | 'celsius'
  | 'other-standard'
  | 'not-expanded';

/** How a student adds up the uncertainty of the prediction. */
export interface BudgetChoices {
  /** Everything, or the correlation alone, as if nothing but convection left the body. */
  readonly counted: 'all' | 'correlation';
  /** Whether the accuracy of the correlation is divided by its coverage factor. */
  readonly correlationAs: 'expanded' | 'standard';
  /** Whether limits of error are divided by √3. */
  readonly limits: 'divided' | 'as-they-are';
  readonly sum: 'squares' | 'absolute';
  readonly expandedBy: 'two' | 'nothing';
  readonly standardIs: 'standard' | 'expanded';
}

/** As it is taught, with everything counted. */
export const taughtChain: ChainChoices = {
  meter: 'right',
  flowVolume: 1,
  flowTime: 1,
  nozzle: 'circle',
  decay: true,
  profile: true,
  properties: 'as-cited',
  diameter: 1,
  reynoldsLength: 'diameter',
  viscosityRatio: 'counted',
  nusseltLength: 'diameter',
  nusseltConductivity: 'air',
  losses: 'all',
  coefficient: 'total',
  length: 'volume-to-area',
  mass: 'weighed',
  massUnit: 1,
  specificHeatUnit: 1,
  inside: 'lumped',
  biotLength: 'as-in-time-constant',
  biotConductivity: 'body',
  own: { reynolds: null, nusselt: null, coefficient: null, measured: null },
  uncertainty: {
    counted: 'all',
    correlationAs: 'expanded',
    limits: 'divided',
    sum: 'squares',
    expandedBy: 'two',
    standardIs: 'standard',
  },
};

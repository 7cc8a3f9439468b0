import type { LinePressure, MeterKind } from './meter.ts';
import type { Material } from './solids.ts';

/** What a prediction starts from. SI throughout, temperatures in K, pressures absolute where not named gauge. */
export interface PredictionInput {
  readonly room: {
    /** Absolute, not reduced to sea level, Pa; 60 to 110 kPa. */
    readonly pressure: number;
    /** K. */
    readonly temperature: number;
    /** 0 to 1. */
    readonly relativeHumidity: number;
  };
  readonly flow: Flow;
  readonly body: Body;
  readonly cooling: {
    /** Temperature of the body as the cooling starts, K. */
    readonly start: number;
    /** Error fractions between which the time constant will be measured, as 0.9 and 0.1. */
    readonly window: { readonly from: number; readonly to: number };
  };
  /** Id of the correlation for forced convection, or null for the usual one of the geometry. */
  readonly correlation: string | null;
  /** What the Nusselt numbers of body and wires are multiplied by, > 0; 1 where left out. */
  readonly nusseltFactor?: number;
}

/** What the body cools in: the room's still air, air of a known speed, or a metered jet. */
export type Flow =
  | { readonly kind: 'still' }
  | ({ readonly kind: 'speed' /** m/s. */; readonly speed: number } & FlowAir)
  | MeteredJet;

/** The moving air. */
interface FlowAir {
  /** Temperature of the moving air at the body, K: expanded supply air is not room air. */
  readonly temperature: number;
  /** Of the moving air at that temperature and room pressure, 0 to 1; 0 for dried compressed air. */
  readonly relativeHumidity: number;
}

/** A jet from a nozzle behind a flow meter. */
export interface MeteredJet extends FlowAir {
  readonly kind: 'jet';
  readonly meter: Meter;
  readonly nozzle: {
    /** m. */
    readonly diameter: number;
    /** From the mouth to the body, m. */
    readonly standOff: number;
    /** Speed on the axis over the mean in the mouth: 1 for a contoured nozzle, about 1.2 for a long tube. */
    readonly profileFactor: number;
    /** B of the decay law; see `usualDecayConstant`. */
    readonly decayConstant: number;
  };
}

/** A flow meter and what it shows. */
export interface Meter {
  readonly kind: MeterKind;
  /** m³/s; kg/s for a mass meter. */
  readonly reading: number;
  /** What the scale is made for; not used by volumetric and mass meters. */
  readonly reference: {
    /** Absolute, Pa. */
    readonly pressure: number;
    /** K. */
    readonly temperature: number;
  };
  /** The air inside the meter; not used by thermal mass and mass meters. */
  readonly line: { readonly pressure: LinePressure /** K. */; readonly temperature: number };
}

/** The body that cools: SI. */
export interface Body {
  /** A solid sphere (a bare junction is a small one), or a long wire across the flow. */
  readonly shape: 'sphere' | 'wire';
  /** m. */
  readonly diameter: number;
  readonly material: Material;
  /** As weighed, kg, spheres only; null to take density times volume. */
  readonly mass: number | null;
  /** Of its surface, 0 to 1. */
  readonly emissivity: number;
  /** Everything thin that leaves the body and stands in the same flow. */
  readonly wires: readonly Wire[];
}

/** A wire that leaves the body and carries heat. */
export interface Wire {
  /** m. */
  readonly diameter: number;
  readonly material: Material;
  /** m, or null for so long that its end does not matter. */
  readonly length: number | null;
}

/** An input that no physics can be done with. The message names it, what it was, and what is allowed. */
export class PredictionInputError extends RangeError {
  override readonly name = 'PredictionInputError';
  /** Path of the field, as `body.diameter`. */
  readonly field: string;

  constructor(field: string, message: string) {
    super(`${field} ${message}`);
    this.field = field;
  }
}

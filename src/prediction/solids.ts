/** How well a tabulated value is known to be what its source prints. */
export type SourceStatus = 'confirmed' | 'unconfirmed';

/** Properties at one temperature. */
interface SolidPoint {
  /** K. */
  readonly temperature: number;
  /** J/(kg K). */
  readonly specificHeat: number;
  /** W/(m K). */
  readonly conductivity: number;
}

/** A solid that a body or a wire can be made of. */
export interface Material {
  /** Stable name for files and commands. */
  readonly id: string;
  readonly name: string;
  /** kg/m³, near 300 K. */
  readonly density: number;
  /** At rising temperatures, at least one; straight lines between, constant beyond. */
  readonly points: readonly SolidPoint[];
  readonly source: string;
  /** Unconfirmed where nobody has yet held the values against the printed source. */
  readonly status: SourceStatus;
}

/** A material at the temperature asked for, SI. */
export interface SolidState {
  readonly density: number;
  readonly specificHeat: number;
  readonly conductivity: number;
}

const incropera =
  'Incropera, DeWitt, Bergman & Lavine, Fundamentals of Heat and Mass Transfer, 6th ed. 2007, Table A.1';
const wireMaker = 'data sheet of a maker of thermocouple alloys';

type Point = readonly [temperature: number, specificHeat: number, conductivity: number];

function solid(
  id: string,
  name: string,
  density: number,
  points: readonly Point[],
  source: string,
  status: SourceStatus = 'confirmed',
): Material {
  return {
    id,
    name,
    density,
    points: points.map(([temperature, specificHeat, conductivity]) => ({
      temperature,
      specificHeat,
      conductivity,
    })),
    source,
    status,
  };
}

/** Solids that spheres, wires and solder are commonly made of. */
export const materials: readonly Material[] = [
  solid(
    'aluminium',
    'aluminium, pure',
    2702,
    [
      [300, 903, 237],
      [400, 949, 240],
    ],
    incropera,
  ),
  solid(
    'aluminium-2024',
    'aluminium 2024-T6',
    2770,
    [
      [300, 875, 177],
      [400, 925, 186],
    ],
    incropera,
  ),
  solid('aluminium-6061', 'aluminium 6061-T6', 2700, [[300, 896, 167]], 'alloy data sheet', 'unconfirmed'),
  solid(
    'copper',
    'copper, pure',
    8933,
    [
      [300, 385, 401],
      [400, 397, 393],
    ],
    incropera,
  ),
  solid(
    'brass',
    'brass, cartridge, 70 Cu 30 Zn',
    8530,
    [
      [300, 380, 110],
      [400, 395, 137],
    ],
    incropera,
  ),
  solid(
    'steel-304',
    'stainless steel AISI 304',
    7900,
    [
      [300, 477, 14.9],
      [400, 515, 16.6],
    ],
    incropera,
    'unconfirmed',
  ),
  solid(
    'steel-316',
    'stainless steel AISI 316',
    8238,
    [
      [300, 468, 13.4],
      [400, 504, 15.2],
    ],
    incropera,
  ),
  solid(
    'steel-carbon',
    'plain carbon steel',
    7854,
    [
      [300, 434, 60.5],
      [400, 487, 56.7],
    ],
    incropera,
    'unconfirmed',
  ),
  solid(
    'steel-1010',
    'carbon steel AISI 1010',
    7832,
    [
      [300, 434, 63.9],
      [400, 487, 58.7],
    ],
    incropera,
    'unconfirmed',
  ),
  solid('iron', 'iron, pure', 7870, [[300, 447, 80.2]], incropera),
  solid('nickel', 'nickel, pure', 8900, [[300, 444, 90.7]], incropera),
  solid('lead', 'lead', 11_340, [[300, 129, 35.3]], incropera),
  solid('platinum', 'platinum', 21_450, [[300, 133, 71.6]], incropera),
  solid(
    'nichrome',
    'nichrome, 80 Ni 20 Cr',
    8400,
    [
      [300, 420, 12],
      [400, 480, 14],
    ],
    incropera,
  ),
  solid('constantan', 'constantan, 55 Cu 45 Ni', 8920, [[300, 384, 23]], incropera),
  solid(
    'chromel',
    'nickel chromium 9.5 (type K and E leg)',
    8730,
    [
      [293, 428, 17.6],
      [473, 460, 21.8],
    ],
    wireMaker,
  ),
  solid(
    'alumel',
    'nickel manganese aluminium (type K leg)',
    8670,
    [
      [293, 475, 26.8],
      [473, 489, 29.3],
    ],
    wireMaker,
  ),
  solid(
    'alumina',
    'aluminium oxide, polycrystalline',
    3970,
    [[300, 765, 36]],
    incropera.replace('A.1', 'A.2'),
  ),
  solid('solder', 'solder, 60 Sn 40 Pb', 8520, [[298, 150, 50]], 'typical handbook values', 'unconfirmed'),
  solid('epoxy', 'epoxy resin, unfilled', 1200, [[293, 1400, 0.2]], 'ISO 10456'),
  solid('ptfe', 'polytetrafluoroethylene', 2200, [[293, 1000, 0.25]], 'ISO 10456'),
];

/** The listed material with an id, if there is one. */
export function findMaterial(id: string): Material | undefined {
  return materials.find((material) => material.id === id);
}

/**
 * A material of the user's own, with constant properties.
 *
 * @param name as it shall be printed
 * @param state density in kg/m³, specific heat in J/(kg K), conductivity in W/(m K); each more than 0
 */
export function ownMaterial(name: string, state: SolidState): Material {
  const { density, specificHeat, conductivity } = state;
  return solid('own', name, density, [[300, specificHeat, conductivity]], 'entered by the user');
}

/**
 * Properties of a solid at a temperature: straight lines between the tabulated temperatures, constant beyond them.
 *
 * @param material with its points at rising temperatures
 * @param temperature K
 */
export function solidState(material: Material, temperature: number): SolidState {
  const { density, points } = material;
  const above = points.findIndex((point) => point.temperature >= temperature);
  const upper = points[above === -1 ? points.length - 1 : above];
  const lower = points[Math.max(above - 1, 0)];
  if (upper === undefined) return { density, specificHeat: Number.NaN, conductivity: Number.NaN };
  if (lower === undefined || above <= 0) {
    return { density, specificHeat: upper.specificHeat, conductivity: upper.conductivity };
  }
  const part = (temperature - lower.temperature) / (upper.temperature - lower.temperature);
  return {
    density,
    specificHeat: lower.specificHeat + part * (upper.specificHeat - lower.specificHeat),
    conductivity: lower.conductivity + part * (upper.conductivity - lower.conductivity),
  };
}

/** Total hemispherical or normal emissivity of a surface. */
export interface SurfaceEmissivity {
  readonly surface: string;
  readonly low: number;
  readonly high: number;
}

/**
 * Emissivities to choose from: common handbook values for metal surfaces between 30 and 500 °C (Incropera et al.,
 * 6th ed., Table A.11 and tables of the same origin; one value where the source has one).
 */
export const emissivities: readonly SurfaceEmissivity[] = [
  { surface: 'copper, polished', low: 0.02, high: 0.02 },
  { surface: 'copper, dull', low: 0.12, high: 0.15 },
  { surface: 'copper, black oxide', low: 0.78, high: 0.78 },
  { surface: 'brass, polished', low: 0.04, high: 0.04 },
  { surface: 'brass, dull', low: 0.22, high: 0.22 },
  { surface: 'brass, oxidised', low: 0.46, high: 0.56 },
  { surface: 'aluminium, polished', low: 0.04, high: 0.06 },
  { surface: 'aluminium, commercial', low: 0.09, high: 0.09 },
  { surface: 'aluminium, heavily oxidised', low: 0.2, high: 0.33 },
  { surface: 'steel, polished', low: 0.07, high: 0.1 },
  { surface: 'stainless steel, heated often', low: 0.5, high: 0.7 },
  { surface: 'paint, black', low: 0.9, high: 0.9 },
];

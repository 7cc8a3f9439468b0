import type { Rig } from './scenario.ts';

/**
 * Bodies of which the course could be made: properties of the order that handbooks give at room temperature. Only the
 * time constants and Biot numbers that follow from them matter here; both stand in the report as the simulator has them.
 */
const copper = { density: 8900, specificHeat: 390, conductivity: 390, emissivity: 0.05 };
const aluminium = { density: 2700, specificHeat: 900, conductivity: 200, emissivity: 0.07 };
const brass = { density: 8500, specificHeat: 380, conductivity: 120, emissivity: 0.06 };
const steel = { density: 7900, specificHeat: 500, conductivity: 15, emissivity: 0.2 };
const glass = { density: 2500, specificHeat: 800, conductivity: 1.1, emissivity: 0.9 };
const polymer = { density: 2150, specificHeat: 1050, conductivity: 0.25, emissivity: 0.9 };

/** Named by their lumped time constants, s, where they are lumped. */
export const rigs = {
  bead03: { ...copper, name: 'bead 0.3 mm', diameter: 0.0003, coefficient: 570, conductivity: 60 },
  bead1: { ...copper, name: 'bead 0.6 mm', diameter: 0.0006, coefficient: 345, conductivity: 60 },
  bead2: { ...copper, name: 'bead 1 mm', diameter: 0.001, coefficient: 289, conductivity: 60 },
  sphere5: { ...aluminium, name: 'aluminium 3 mm', diameter: 0.003, coefficient: 243 },
  sphere12: { ...aluminium, name: 'aluminium 6.35 mm', diameter: 0.00635, coefficient: 214 },
  sphere40: { ...brass, name: 'brass 12.7 mm', diameter: 0.0127, coefficient: 170 },
  sphere100: { ...brass, name: 'brass 19 mm', diameter: 0.019, coefficient: 102 },
  sphere160: { ...brass, name: 'brass 19 mm, slow jet', diameter: 0.019, coefficient: 64 },
  sphere250: { ...brass, name: 'brass 25.4 mm', diameter: 0.0254, coefficient: 54 },
  /** Biot numbers about 0.02 and 0.05, the end of what counts as lumped. */
  steel12: { ...steel, name: 'steel 9.5 mm', diameter: 0.0095, coefficient: 190 },
  steel25: { ...steel, name: 'steel 25.4 mm', diameter: 0.0254, coefficient: 170 },
  /** Biot numbers about 0.1, 0.2, 0.3 and 0.5. */
  glass8: { ...glass, name: 'glass 8 mm', diameter: 0.008, coefficient: 77 },
  glass12: { ...glass, name: 'glass 12.7 mm, slow jet', diameter: 0.0127, coefficient: 99 },
  glass12fast: { ...glass, name: 'glass 12.7 mm, fast jet', diameter: 0.0127, coefficient: 151 },
  polymer6: { ...polymer, name: 'polymer 6.35 mm', diameter: 0.00635, coefficient: 112 },
} as const satisfies Record<string, Rig>;

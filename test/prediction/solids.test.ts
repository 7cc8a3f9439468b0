import { describe, expect, test } from 'vitest';
import {
  emissivities,
  findMaterial,
  materials,
  ownMaterial,
  solidState,
} from '../../src/prediction/solids.ts';

describe('the table of solids', () => {
  test.each(materials.map((one) => [one.id, one] as const))('%s', (id, material) => {
    expect(findMaterial(id)).toBe(material);
    expect(material.source).not.toBe('');
    const temperatures = material.points.map((point) => point.temperature);
    expect(temperatures).toEqual([...temperatures].sort((a, b) => a - b));
    for (const point of material.points) {
      // Metals keep to about 25 J/(mol K) (Dulong & Petit): 2 to 4 MJ/(m³ K); plastics and ceramics not far below.
      const volumetric = material.density * point.specificHeat;
      expect(volumetric).toBeGreaterThan(1.2e6);
      expect(volumetric).toBeLessThan(4.3e6);
    }
  });

  test('brass as printed in Incropera et al., Table A.1, and between', () => {
    const brass = findMaterial('brass');
    if (brass === undefined) throw new Error('no brass');
    expect(solidState(brass, 300)).toEqual({ density: 8530, specificHeat: 380, conductivity: 110 });
    expect(solidState(brass, 400)).toEqual({ density: 8530, specificHeat: 395, conductivity: 137 });
    expect(solidState(brass, 350)).toEqual({ density: 8530, specificHeat: 387.5, conductivity: 123.5 });
    expect(solidState(brass, 250).specificHeat).toBe(380);
    expect(solidState(brass, 480).specificHeat).toBe(395);
  });

  test('copper at 328 K agrees with 388 J/(kg K) and 399 W/(m K) of Incropera et al., Example 7.6', () => {
    const copper = findMaterial('copper');
    if (copper === undefined) throw new Error('no copper');
    const state = solidState(copper, 328);
    expect(state.specificHeat).toBeCloseTo(388.36, 2);
    expect(state.conductivity).toBeCloseTo(398.8, 1);
  });
});

test("a user's own material is constant", () => {
  const own = ownMaterial('bronze, from the maker', { density: 8800, specificHeat: 377, conductivity: 60 });
  expect(solidState(own, 280)).toEqual({ density: 8800, specificHeat: 377, conductivity: 60 });
  expect(solidState(own, 480)).toEqual({ density: 8800, specificHeat: 377, conductivity: 60 });
  expect(solidState({ ...own, points: [] }, 300).specificHeat).toBeNaN();
});

test('emissivities lie between 0 and 1', () => {
  for (const { low, high } of emissivities) {
    expect(low).toBeGreaterThan(0);
    expect(high).toBeGreaterThanOrEqual(low);
    expect(high).toBeLessThan(1);
  }
});

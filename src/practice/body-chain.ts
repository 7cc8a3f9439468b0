import type { BenchTrial, SimulatedBody, SimulatedStem } from './bench-types.ts';

/**
 * A body and its stems as a tree of nodes with heat capacities, joined by conductances. Every node but the last has
 * one parent with a higher number; node 0 is the middle of the sphere, the last node its surface, to which the chain
 * of the sphere and those of the stems lead.
 */
export interface BodyChain {
  /** Number of nodes. */
  readonly count: number;
  readonly parent: Int32Array;
  /** Conductance to the parent, W/K. */
  readonly link: Float64Array;
  /** Sum of all conductances that meet in a node, W/K. */
  readonly links: Float64Array;
  /** J/K. */
  readonly capacity: Float64Array;
  /** From a node to the air over the surface of a stem in the unchanged jet, W/K. */
  readonly stemLoss: Float64Array;
  /** Of the sphere's surface without the places where stems are fixed, m². */
  readonly area: number;
  readonly emissivity: number;
}

/** The range of coefficients that a chain has to stand, as factors of those in the jet; for the sphere W/(m² K). */
export interface CoefficientRange {
  /** Largest about the sphere, with radiation. */
  readonly largest: number;
  readonly smallestFactor: number;
  readonly largestFactor: number;
}

/** W/(m² K⁴), CODATA 2018 (exact since then). */
export const stefanBoltzmann = 5.670374419e-8;

/** 0 °C in K. */
export const iceKelvin = 273.15;

/**
 * Shells between the middle and the surface. Finite volumes of second order put the first mode wrong by
 * (zeta/n)²/12, where zeta² is at most 3 Bi: with n² = 3000 Bi that is under 1e-4, and the temperature is wrong by under
 * 0.4 of it.
 */
const shellsSquaredPerBiot = 3000;
const fewestShells = 4;
const mostShells = 120;

/** First cell of a stem in its fin length 1/m, growth of the cells away from the body, fewest cells. */
const firstCell = 0.12;
const cellGrowth = 1.2;
const fewestCells = 6;
/** A fin's end is not felt from this many fin lengths: tanh(9) = 1 - 3e-8. */
const endlessFin = 9;

/** Fin parameter m = √(4 h/(k d)), 1/m (Incropera et al., 6th ed., eq. 3.65, for a round pin). */
export function finParameter(stem: SimulatedStem, factor: number): number {
  return Math.sqrt((4 * stem.coefficient * factor) / (stem.conductivity * stem.diameter));
}

/** Widths of a stem's cells from the body outwards, m. */
function stemCells(stem: SimulatedStem, range: CoefficientRange): number[] {
  const reach = endlessFin / finParameter(stem, range.smallestFactor);
  const length = Math.min(stem.length, reach);
  const first = Math.min(length, firstCell / finParameter(stem, range.largestFactor));
  const needed = Math.log1p((length / first) * (cellGrowth - 1)) / Math.log(cellGrowth);
  const cells = Math.max(fewestCells, Math.ceil(needed));
  const scale = (length * (cellGrowth - 1)) / (cellGrowth ** cells - 1);
  return Array.from({ length: cells }, (_, j) => scale * cellGrowth ** j);
}

/** Fewest shells that resolve the profile at a Biot number h r/k. */
function shellCount(biot: number): number {
  return Math.min(mostShells, Math.max(fewestShells, Math.ceil(Math.sqrt(shellsSquaredPerBiot * biot))));
}

/** One node before the tree is closed. */
interface Node {
  parent: number;
  link: number;
  capacity: number;
  stemLoss: number;
}

/** Nodes on equal steps of the radius, the first in the middle; the surface is left to the caller. */
function sphereNodes(body: SimulatedBody, shells: number): { nodes: Node[]; surfaceCapacity: number } {
  const step = body.diameter / 2 / shells;
  const perVolume = body.density * body.specificHeat;
  const ball = (radius: number) => (4 / 3) * Math.PI * radius ** 3;
  const nodes = Array.from({ length: shells }, (_, i) => ({
    parent: i + 1,
    link: body.conductivity * 4 * Math.PI * (i + 0.5) ** 2 * step,
    capacity: perVolume * (ball((i + 0.5) * step) - (i === 0 ? 0 : ball((i - 0.5) * step))),
    stemLoss: 0,
  }));
  return { nodes, surfaceCapacity: perVolume * (ball(shells * step) - ball((shells - 0.5) * step)) };
}

/** tanh(x)/x and x/sinh(x), 1 at 0. */
const tanhOver = (x: number) => (x === 0 ? 1 : Math.tanh(x) / x);
const overSinh = (x: number) => (x === 0 ? 1 : x / Math.sinh(x));

/**
 * Nodes of a stem from its end to the one next to the body, and what its first half cell gives to the surface. A cell
 * of width w conducts k A m/sinh(m w) and gives up k A m tanh(m w/2) at each end, which is exact for a steady fin in
 * the unchanged jet; its capacity goes with what it gives up, so that it cools at the stem's own rate.
 */
function stemNodes(stem: SimulatedStem, range: CoefficientRange): { nodes: Node[]; base: Node } {
  const section = (Math.PI * stem.diameter ** 2) / 4;
  const m = finParameter(stem, 1);
  const widths = stemCells(stem, range);
  const node = (inner: number, outer: number): Node => {
    const held = (inner * tanhOver((m * inner) / 2) + outer * tanhOver((m * outer) / 2)) / 2;
    return {
      parent: -1,
      link: inner > 0 ? (stem.conductivity * section * overSinh(m * inner)) / inner : 0,
      capacity: stem.density * stem.specificHeat * section * held,
      stemLoss: stem.coefficient * Math.PI * stem.diameter * held,
    };
  };
  const outwards = widths.map((width, j) => node(width, widths[j + 1] ?? 0));
  return { nodes: outwards.reverse(), base: node(0, widths[0] ?? 0) };
}

/** The smallest and largest coefficients of a trial, radiation at its hottest included. */
export function coefficientRange(trial: BenchTrial): CoefficientRange {
  const { air, heatings } = trial;
  const hottest = Math.max(air.ambient, ...heatings.map((heating) => heating.stream)) + iceKelvin;
  const factors = [1, ...heatings.map((heating) => stemFactor(trial, heating.coefficient))];
  if (air.jetChange !== null) factors.push(air.jetChange.factor);
  const change = air.jetChange?.factor ?? 1;
  const largest = Math.max(air.coefficient * Math.max(1, change), ...heatings.map((h) => h.coefficient));
  return {
    largest: largest + 4 * trial.body.emissivity * stefanBoltzmann * hottest ** 3,
    smallestFactor: Math.min(...factors),
    largestFactor: Math.max(...factors),
  };
}

/** Factor of the stems' coefficients where the sphere has another than in the jet; 1 where the jet has none. */
export function stemFactor(trial: BenchTrial, coefficient: number): number {
  return trial.air.coefficient > 0 ? coefficient / trial.air.coefficient : 1;
}

/**
 * Cuts a sphere into shells (finite volumes, nodes on equal steps of the radius from the middle to the surface) and
 * each stem into cells that widen away from the body; second order in the widths.
 *
 * @param range coefficients that the chain will meet: they decide how fine it is
 */
export function bodyChain(body: SimulatedBody, range: CoefficientRange): BodyChain {
  const biot = (range.largest * body.diameter) / 2 / body.conductivity;
  const sphere = sphereNodes(body, shellCount(biot));
  const stems = body.stems.map((stem) => stemNodes(stem, range));
  const nodes = [...sphere.nodes, ...stems.flatMap((stem) => stem.nodes)];
  const root = nodes.length;
  // Chains run upwards in number; the last of each leads to the surface.
  let next = sphere.nodes.length;
  for (const stem of stems) {
    for (const [j, node] of stem.nodes.entries()) {
      node.parent = j === stem.nodes.length - 1 ? root : next + 1;
      next += 1;
    }
  }
  for (const node of sphere.nodes.slice(-1)) node.parent = root;
  const sum = (pick: (node: Node) => number) => stems.reduce((total, stem) => total + pick(stem.base), 0);
  nodes.push({
    parent: -1,
    link: 0,
    capacity: sphere.surfaceCapacity + sum((base) => base.capacity),
    stemLoss: sum((base) => base.stemLoss),
  });
  const links = new Float64Array(nodes.length);
  for (const [i, node] of nodes.entries()) {
    links[i] = (links[i] ?? 0) + node.link;
    if (node.parent >= 0) links[node.parent] = (links[node.parent] ?? 0) + node.link;
  }
  const covered = body.stems.reduce((total, stem) => total + (Math.PI * stem.diameter ** 2) / 4, 0);
  return {
    count: nodes.length,
    parent: Int32Array.from(nodes, (node) => node.parent),
    link: Float64Array.from(nodes, (node) => node.link),
    links,
    capacity: Float64Array.from(nodes, (node) => node.capacity),
    stemLoss: Float64Array.from(nodes, (node) => node.stemLoss),
    area: Math.max(0, Math.PI * body.diameter ** 2 - covered),
    emissivity: body.emissivity,
  };
}

import * as Plot from '@observablehq/plot';
import { offscreenDocument } from '../../src/figure/index.ts';
import type { NusseltCorrelation } from '../../src/prediction/index.ts';

/** Prandtl number of air at room temperature, to two places. */
const air = 0.71;
/** How far beyond a range the dashes go, as a factor. */
const beyond = 3;
/** Where a range begins at nothing, a logarithmic axis has to begin somewhere. */
const leastStart = { reynolds: 1, rayleigh: 1 } as const;
const points = 121;

interface Point {
  readonly x: number;
  readonly nusselt: number;
}

/** What a correlation is drawn over. */
export function drawnNumber({ convection }: NusseltCorrelation) {
  return convection === 'forced'
    ? ({ key: 'reynolds', words: 'Reynolds number', label: 'Reynolds number Re' } as const)
    : ({ key: 'rayleigh', words: 'Rayleigh number', label: 'Rayleigh number Ra' } as const);
}

/**
 * Nusselt number over Reynolds or Rayleigh number for air (Pr 0.71, viscosity ratio 1) on logarithmic axes, in black
 * on white: a full line within the range of the source, dashes outside.
 *
 * @returns SVG text
 */
export function drawCorrelation(correlation: NusseltCorrelation): string {
  const { key, label, words } = drawnNumber(correlation);
  const [first, last] = correlation.range[key] ?? [leastStart[key], 1e6];
  const low = Math.max(first, leastStart[key]);
  const curve = (from: number, to: number) => curveOf(correlation, key, from, to);
  const before = first > leastStart[key] ? curve(first / beyond, first) : [];
  const dashes = {
    x: 'x',
    y: 'nusselt',
    stroke: 'black',
    strokeWidth: 1.25,
    strokeDasharray: '5 4',
  } as const;
  const drawn = Plot.plot({
    document: offscreenDocument(),
    ariaLabel: `Nusselt number against ${words}: ${correlation.citation}`,
    width: 560,
    height: 340,
    marginLeft: 62,
    marginBottom: 44,
    marginRight: 24,
    style: { background: 'white', color: 'black', fontFamily: 'sans-serif', fontSize: '12px' },
    x: { type: 'log', label, grid: true, labelAnchor: 'center', labelArrow: 'none', ticks: 8, tickFormat },
    y: { type: 'log', label: 'Nusselt number Nu', grid: true, labelArrow: 'none', ticks: 6, tickFormat },
    marks: [
      Plot.frame({ stroke: 'black' }),
      Plot.line(before, dashes),
      Plot.line(curve(last, last * beyond), dashes),
      Plot.line(curve(low, last), { x: 'x', y: 'nusselt', stroke: 'black', strokeWidth: 2.25 }),
    ],
  });
  return `${plainNumbers(drawn.outerHTML).replace('<svg ', '<svg xmlns="http://www.w3.org/2000/svg" ')}\n`;
}

function curveOf(
  { nusselt }: NusseltCorrelation,
  key: 'reynolds' | 'rayleigh',
  from: number,
  to: number,
): Point[] {
  return Array.from({ length: points }, (_, place) => {
    const x = from * (to / from) ** (place / (points - 1));
    const flow = { reynolds: 0, rayleigh: 0, prandtl: air, viscosityRatio: 1, [key]: x };
    return { x, nusselt: nusselt(flow) };
  });
}

function tickFormat(value: number): string {
  const exponent = Math.log10(value);
  if (Math.abs(exponent - Math.round(exponent)) > 1e-9) return '';
  return value >= 0.1 && value <= 1000 ? String(Number(value.toPrecision(1))) : `1e${Math.round(exponent)}`;
}

/** Two places are finer than any screen, and do not depend on the machine that draws. */
function plainNumbers(svg: string): string {
  return svg.replaceAll(/-?\d+\.\d{3,}/g, (number) => String(Number(Number(number).toFixed(2))));
}

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Experiment, experimentSchema, parseChecked } from '../../src/experiment/index.ts';
import { darkTheme, rigOf, schematicFigure, schematicTable } from '../../src/figure/index.ts';
import { expectSound, textsOf } from './svg.ts';
import { anyText } from './texts.ts';

function experimentOf(text: string): Experiment {
  const checked = parseChecked(text, experimentSchema);
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  return checked.value;
}

const thornwick = experimentOf(readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8'));
const still = experimentOf('bodies: { ball: { diameter: 12 mm, material: brass } }\nflows: { still: still }');
const tunnel = experimentOf(`
course: Wires in a wind tunnel
supply: { temperature: 21 degC, pressure: 4 bar(a) }
sensor: { resistance: Pt100 }
nozzle: { diameter: 50 mm, stand-off: 2 m }
meter: { kind: mass, full-scale: 10 g/s }
bodies:
  w: { shape: wire, diameter: 0.25 mm, material: copper }
  unmeasured: { mass: 7 g, material: brass }
flows: { a: 2 g/s, b: 4 g/s }
`);
const fan = experimentOf(`
sensor: { thermocouple: K, junction: inside }
logger: { rate: 10 Hz, resolution: 0.1 K }
bodies: { w: { shape: wire, diameter: 2 mm, material: copper } }
flows: { slow: 2 m/s, fast: 5 m/s, still: still }
`);

const rigs = { thornwick, still, tunnel, fan, empty: experimentOf('format: 1') };

describe('a schematic', () => {
  it.each(Object.entries(rigs))(
    'is sound for the rig "%s", wide, narrow, dark and large',
    (_, experiment) => {
      for (const options of [{}, { width: 390 }, { theme: darkTheme }, { width: 1600, scale: 1.6 }]) {
        expectSound(schematicFigure(rigOf(experiment), options));
      }
    },
  );

  it('shows the numbers that stand in the experiment file', () => {
    const words = textsOf(expectSound(schematicFigure(rigOf(thornwick)))).join(' | ');
    for (const said of [
      '6 bar gauge',
      'set to 60, 120 L/min',
      'scale for 101.3 kPa, 0 °C',
      'nozzle, bore 16 mm',
      '12 mm from mouth to middle',
      'ice bath',
      'gain 200',
      'zero 1.3 mV',
      '100 readings a second',
      'hot air, 180 °C',
    ]) {
      expect(words).toContain(said);
    }
  });

  it.each([{}, { width: 390 }])('draws nozzle, stand-off and bodies at one scale (%o)', (options) => {
    const root = expectSound(schematicFigure(rigOf(thornwick), options));
    // The bore is 16 mm, the stand-off 12 mm, the bodies are 20 mm, 12 mm and 1.8 mm in diameter, by the file.
    const radii = Array.from(root.querySelectorAll('circle'), (node) => Number(node.getAttribute('r')));
    const [large = 0, middle = 0] = radii.toSorted((a, b) => b - a);
    expect(middle / large).toBeCloseTo(12 / 20, 2);
    const walls = Array.from(root.querySelectorAll('path')).filter((node) => {
      return node.getAttribute('stroke-width') === '2.4';
    });
    const ends = walls.map((node) => /L([\d.]+),([\d.]+)$/.exec(node.getAttribute('d') ?? ''));
    const bore = Math.abs(Number(ends[0]?.[2]) - Number(ends[1]?.[2]));
    expect(bore / (2 * large)).toBeCloseTo(16 / 20, 2);
    const body = root.querySelector('circle')?.getAttribute('cx');
    expect((Number(body) - Number(ends[0]?.[1])) / bore).toBeCloseTo(12 / 16, 2);
  });

  it('has no air line in still air, and says where it is not to scale', () => {
    expect(rigOf(still).air).toEqual([]);
    expect(schematicFigure(rigOf(still))).not.toContain('air supply');
    expect(schematicFigure(rigOf(tunnel))).toContain('Not to scale');
    expect(schematicFigure(rigOf(thornwick))).toContain('one scale');
  });

  it('draws one body alone where one is asked for', () => {
    const words = textsOf(expectSound(schematicFigure(rigOf(thornwick, 'bare-junction')))).join(' | ');
    expect(words).toContain('1.8 mm: bare-junction');
    expect(words).not.toContain('brass-20');
  });

  it('keeps every text of the narrow form on the sheet', () => {
    for (const experiment of Object.values(rigs)) {
      const root = expectSound(schematicFigure(rigOf(experiment), { width: 390 }));
      for (const node of Array.from(root.querySelectorAll('text'))) {
        // 5 px a letter is less than the family's mean at these sizes: what fails here is far off the sheet.
        const length = (node.textContent ?? '').length * 5;
        const x = Number(node.getAttribute('x'));
        const anchor = node.getAttribute('text-anchor');
        const left = anchor === 'end' ? x - length : anchor === 'middle' ? x - length / 2 : x;
        expect(left).toBeGreaterThanOrEqual(0);
        expect(left + length).toBeLessThanOrEqual(390);
      }
    }
  });

  it('bears any name', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const rig = { ...rigOf(thornwick), course: text, sensor: text, heating: text };
        expectSound(schematicFigure(rig));
      }),
      { seed: 7, numRuns: 20 },
    );
  });

  it('has its parts in a table too', () => {
    const { rows } = schematicTable(rigOf(thornwick));
    expect(rows.map(([part]) => part)).toEqual([
      'air supply',
      'valve',
      'variable-area meter',
      'nozzle',
      'body',
      'body',
      'body',
      'heating',
      'sensor',
      'ice bath',
      'amplifier',
      'logger',
    ]);
  });
});

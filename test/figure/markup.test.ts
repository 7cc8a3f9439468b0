import { Resvg } from '@resvg/resvg-js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coordinate, element, escapeXml, label, serialize } from '../../src/figure/markup.ts';
import { offscreenDocument } from '../../src/figure/offscreen.ts';
import { parseSvg } from './svg.ts';
import { anyText } from './texts.ts';

describe('escaping', () => {
  it('lets nothing out of content or attributes', () => {
    expect(escapeXml(`<b a="1" c='2'>&amp;`)).toBe('&lt;b a=&quot;1&quot; c=&#39;2&#39;&gt;&amp;amp;');
  });

  it('gives well-formed XML for any text', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const svg = element(
          'svg',
          { xmlns: 'http://www.w3.org/2000/svg', width: 10, height: 10, 'data-x': text },
          label(text, { x: 1 }),
          escapeXml(text),
        );
        expect(() => new Resvg(svg, { font: { loadSystemFonts: false } })).not.toThrow();
        expect(parseSvg(svg).querySelectorAll('*')).toHaveLength(1);
      }),
      { numRuns: 80 },
    );
  });
});

describe('coordinates', () => {
  it('have two decimals, no exponent and no negative zero', () => {
    expect([1 / 3, -0.001, 1e-9, 12, -7.006].map(coordinate)).toEqual(['0.33', '0', '0', '12', '-7.01']);
  });

  it('refuse what is not finite', () => {
    expect(() => coordinate(Number.NaN)).toThrow(RangeError);
  });
});

describe('serializing a drawn element', () => {
  it('sorts attributes, rounds numbers, and drops classes, styles, scripts and handlers', () => {
    const document = offscreenDocument();
    const g = document.createElementNS('http://www.w3.org/2000/svg', 'g');
    g.setAttribute('transform', 'translate(1.23456,-7e-9)');
    g.setAttribute('class', 'x');
    g.setAttribute('onclick', 'x()');
    g.setAttribute('aria-description', 'a<b');
    g.setAttribute('fill', 'none');
    const style = document.createElementNS('http://www.w3.org/2000/svg', 'style');
    style.textContent = 'g { }';
    g.append(style, document.createTextNode('1 < 2'));
    expect(serialize(g)).toBe('<g data-part="a&lt;b" fill="none" transform="translate(1.23,0)">1 &lt; 2</g>');
  });
});

import { Resvg } from '@resvg/resvg-js';
import { parseHTML } from 'linkedom';
import { expect } from 'vitest';

/** An SVG text as a tree. */
export function parseSvg(svg: string): Element {
  const root = parseHTML(`<!doctype html><html><body>${svg}</body></html>`).document.querySelector('svg');
  if (!root) throw new Error('there is no svg element');
  return root;
}

/**
 * What must hold for every figure: a strict XML parser takes it, it has a name and a description, no coordinate
 * is missing, nothing in it runs or loads, and there are no identifiers that could clash on a page.
 */
export function expectSound(svg: string): Element {
  expect(() => new Resvg(svg, { font: { loadSystemFonts: false } })).not.toThrow();
  const root = parseSvg(svg);
  expect(root.children[0]?.localName).toBe('title');
  expect(root.children[0]?.textContent?.trim()).not.toBe('');
  expect(root.children[1]?.localName).toBe('desc');
  expect(root.children[1]?.textContent?.trim()).not.toBe('');
  for (const node of Array.from(root.querySelectorAll('*'))) {
    expect(['script', 'style', 'foreignobject', 'image', 'a', 'use']).not.toContain(
      node.localName.toLowerCase(),
    );
    for (const { name, value } of Array.from(node.attributes)) {
      expect(name).not.toMatch(/^(on|id$|href|xlink|style$|class$)/i);
      if (name !== 'data-part') expect(value).not.toMatch(/NaN|Infinity|undefined|null|\d\.\d{3,}/);
    }
  }
  return root;
}

/** All text of a figure, a line each. */
export function textsOf(root: Element): string[] {
  return Array.from(root.querySelectorAll('text'), (node) => node.textContent ?? '');
}

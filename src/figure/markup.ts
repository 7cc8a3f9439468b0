import { plain } from './words.ts';

/** Attributes of an element; undefined ones are left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** Escapes a text for content and attributes of XML 1.0, without the characters that XML does not allow. */
export function escapeXml(text: string): string {
  return (
    text
      // biome-ignore lint/suspicious/noControlCharactersInRegex: XML forbids these characters
      .replace(/[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|\p{Cs}/gu, '')
      .replaceAll('&', '&amp;')
      .replaceAll('<', '&lt;')
      .replaceAll('>', '&gt;')
      .replaceAll('"', '&quot;')
      .replaceAll("'", '&#39;')
  );
}

/**
 * A coordinate as it is written: two decimals, no exponent.
 *
 * @throws RangeError if the number is not finite: a drawing must never hold one that is not
 */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError('a coordinate must be finite: leave such points out');
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

/** An element as text. Attribute values are escaped here; children are markup already. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  let open = name;
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    open += ` ${key}="${typeof value === 'number' ? coordinate(value) : escapeXml(value)}"`;
  }
  const content = children.join('');
  return content === '' ? `<${open}/>` : `<${open}>${content}</${name}>`;
}

/** A line of text as an element: made plain, then escaped. */
export function label(text: string, attributes: Attributes): string {
  return element('text', attributes, escapeXml(plain(text)));
}

/** Straight lines through points, as the data of a path. */
export function polyline(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${coordinate(x)},${coordinate(y)}`).join('');
}

/** Attributes that hold numbers. */
const geometric = new Set(
  'd transform x y x1 x2 y1 y2 cx cy r width height dx dy points stroke-width'.split(' '),
);

/**
 * A drawn element and what is in it as text, the same for every document object model: attributes by name,
 * coordinates rounded, no classes, styles or script. `aria-description`, by which a mark names its part of the
 * figure, becomes `data-part`; other aria attributes are dropped, as the whole figure carries one description.
 */
export function serialize(node: Element): string {
  const name = node.localName;
  if (name === 'style' || name === 'script') return '';
  const attributes: Record<string, string> = {};
  for (const { name: key, value } of Array.from(node.attributes)) {
    if (key === 'aria-description') attributes['data-part'] = value;
    else if (key !== 'class' && key !== 'style' && !key.startsWith('aria-') && !key.startsWith('on')) {
      attributes[key] = geometric.has(key) ? roundNumbers(value) : value;
    }
  }
  const sorted = Object.fromEntries(Object.entries(attributes).sort(([a], [b]) => (a < b ? -1 : 1)));
  return element(name, sorted, serializeChildren(node));
}

/** The children of a drawn element as text. */
export function serializeChildren(node: Element): string {
  return Array.from(node.childNodes)
    .map((child) => {
      if (isElement(child)) return serialize(child);
      return child.nodeType === 3 ? escapeXml(child.textContent ?? '') : '';
    })
    .join('');
}

function isElement(node: Node): node is Element {
  return node.nodeType === 1;
}

function roundNumbers(text: string): string {
  return text.replace(/-?\d+(?:\.\d+)?(?:e[-+]?\d+)?/g, (number) => coordinate(Number(number)));
}

import { parseHTML } from 'linkedom';
import temml from 'temml';

/**
 * A formula as Typst's mathematics.
 *
 * @param tex of the parts that `mathOf` knows
 * @throws RangeError where it holds something else; Error where it is not TeX
 */
export function typstMath(tex: string): string {
  const markup = temml.renderToString(tex, { xml: true, throwOnError: true });
  const { document } = parseHTML(`<!doctype html><html><body>${markup}</body></html>`);
  const root = document.querySelector('math');
  if (root === null) throw new RangeError(`no formula came of ${tex}`);
  return mathOfAll(root);
}

/** A formula as MathML Core without styles and classes, in ordinary letters. */
export function mathMarkup(tex: string, display: boolean): string {
  return temml
    .renderToString(tex, { xml: true, displayMode: display, throwOnError: true })
    .replace(/ (?:style|class)="[^"]*"/g, '')
    .replace(/<mspace><\/mspace>/g, '');
}

function mathOfAll(node: Element): string {
  const parts: string[] = [];
  let word = '';
  const endWord = () => {
    if (word !== '') parts.push(quotedText(word));
    word = '';
  };
  for (const child of Array.from(node.children)) {
    const inner = unwrapped(child);
    const text = inner.textContent ?? '';
    // Upright letters side by side are one word, as a unit is, with the stroke that divides it.
    if (isUpright(inner) || (word !== '' && inner.localName.toLowerCase() === 'mi' && text === '/'))
      word += text;
    else {
      endWord();
      const set = mathOf(child);
      if (set !== '') parts.push(set);
    }
  }
  endWord();
  return joined(parts);
}

/** Parts side by side; a blank beside a word would be set as one, beside anything else it has no meaning. */
function joined(parts: readonly string[]): string {
  return parts.reduce((before, part) => {
    const word = before.endsWith('"') || part.startsWith('"');
    return before === '' || word ? before + part : `${before} ${part}`;
  }, '');
}

/** What a row holds, where that is one thing and space without a width. */
function unwrapped(node: Element): Element {
  if (node.localName.toLowerCase() !== 'mrow') return node;
  const held = Array.from(node.children).filter((child) => {
    return child.localName.toLowerCase() !== 'mspace' || child.getAttribute('width') !== null;
  });
  const [only] = held;
  return only === undefined || held.length > 1 ? node : unwrapped(only);
}

function isUpright(node: Element): boolean {
  const isName = node.localName.toLowerCase() === 'mi';
  return isName && node.getAttribute('mathvariant') === 'normal' && /^\p{L}+$/u.test(node.textContent ?? '');
}

function mathOf(node: Element): string {
  const name = node.localName.toLowerCase();
  const text = node.textContent ?? '';
  switch (name) {
    case 'mrow':
      return rowOf(node);
    case 'mstyle':
    case 'mpadded':
      return mathOfAll(node);
    case 'mi':
      return identifier(text, node.getAttribute('mathvariant') === 'normal');
    case 'mn':
      return quotedText(text);
    case 'mtext':
      return text.trim() === '' ? 'space' : quotedText(text);
    case 'mspace':
      return spaceOf(node.getAttribute('width'));
    case 'mo':
      return operator(text);
    case 'mfrac':
      return `frac(${childOf(node, 0)}, ${childOf(node, 1)})`;
    case 'msup':
      return `attach(${childOf(node, 0)}, t: ${childOf(node, 1)})`;
    case 'msub':
      return `attach(${childOf(node, 0)}, b: ${childOf(node, 1)})`;
    case 'msubsup':
      return `attach(${childOf(node, 0)}, b: ${childOf(node, 1)}, t: ${childOf(node, 2)})`;
    case 'munder':
      return `attach(limits(${childOf(node, 0)}), b: ${childOf(node, 1)})`;
    case 'munderover':
      return `attach(limits(${childOf(node, 0)}), b: ${childOf(node, 1)}, t: ${childOf(node, 2)})`;
    case 'mover':
      return /[¯‾―]|\u0305/.test(node.children[1]?.textContent ?? '')
        ? `overline(${childOf(node, 0)})`
        : `attach(limits(${childOf(node, 0)}), t: ${childOf(node, 1)})`;
    case 'msqrt':
      return `sqrt(${mathOfAll(node)})`;
    case 'menclose':
      return `overline(${mathOfAll(node)})`;
    default:
      throw new RangeError(`a formula holds <${name}>, which is not set on paper`);
  }
}

/** Brackets that grow with what is between them stand at the ends of a row of their own. */
function rowOf(node: Element): string {
  const { firstElementChild: first, lastElementChild: last } = node;
  const grows = (one: Element | null) => one?.getAttribute('stretchy') === 'true';
  return grows(first) && grows(last) ? `lr(${mathOfAll(node)})` : mathOfAll(node);
}

/** A part as one argument; nothing is an empty text. */
function childOf(node: Element, index: number): string {
  const child = node.children[index];
  const set = child === undefined ? '' : mathOf(child);
  return set === '' ? '""' : set;
}

function identifier(text: string, upright: boolean): string {
  if (upright || !/^\p{L}$/u.test(text)) return /^[/]$/.test(text) ? operator(text) : quotedText(text);
  return text;
}

function operator(text: string): string {
  return Array.from(text, (letter) => (/^[!-/:-@[-`{-~]$/.test(letter) ? `\\${letter}` : letter)).join('');
}

function spaceOf(width: string | null): string {
  const em = /^(-?[\d.]+)em$/.exec(width ?? '')?.[1];
  return em === undefined || Number(em) === 0 ? '' : `#h(${em}em)`;
}

/** A text in quotes, in which nothing has a meaning of its own. */
export function quotedText(text: string): string {
  return `"${text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: no letters, and no font has them
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]|\p{Cs}/gu, '')
    .replace(/["\\]/g, (one) => `\\${one}`)
    .replace(/\r?\n/g, ' ')}"`;
}

import { coordinate, element, escapeXml } from './markup.ts';
import { fontFamily, lightTheme, sizes, type Theme } from './theme.ts';
import { plain } from './words.ts';

/** How a figure looks. */
export interface ThemeOptions {
  /** Light unless said otherwise. */
  readonly theme?: Theme;
}

/** How large a figure is. */
export interface SizeOptions {
  /** px, 340 to 3800; what is asked for beyond that is brought to the nearer end. */
  readonly width?: number;
  /** How much larger than usual letters, lines and marks are, 0.75 to 3: for a projector about 1.6. */
  readonly scale?: number;
}

/** A figure's size: what it is drawn in, and how much larger that is shown. */
export interface Sheet {
  /** Width that the figure is laid out in, px. */
  readonly width: number;
  readonly scale: number;
}

/** The sheet for a wanted size; the usual width and scale where nothing is wanted. */
export function sheetOf(size: SizeOptions, usualWidth: number): Sheet {
  const scale = within(size.scale ?? 1, 0.75, 3, 1);
  const width = within(size.width ?? usualWidth * scale, 340, 3800, usualWidth);
  return { width: Math.max(width / scale, narrowest), scale };
}

/** Figures are laid out no narrower, px: their letters would not find room. */
const narrowest = 300;

function within(value: number, least: number, most: number, usual: number): number {
  return Number.isFinite(value) ? Math.min(Math.max(value, least), most) : usual;
}

/** What a figure with axes needs from its caller. */
export interface FigureOptions extends ThemeOptions, SizeOptions {
  /** Where to draw: a browser's own document, or one from `offscreenDocument()`. */
  readonly document: Document;
}

/** The theme of the options, light unless said otherwise. */
export function themeOf(options: ThemeOptions): Theme {
  return options.theme ?? lightTheme;
}

/**
 * The whole drawing: ground, accessible name and description, and what is in it.
 *
 * @param width px
 * @param height px
 * @param title what the figure is, in a few words
 * @param description what it shows, in sentences
 */
export function frame(
  theme: Theme,
  width: number,
  height: number,
  title: string,
  description: string,
  ...content: readonly string[]
): string {
  return frameSheet(theme, { width, scale: 1 }, height, title, description, ...content);
}

/**
 * As `frame`, shown at the sheet's scale.
 *
 * @param height of what is drawn, px before the scale
 */
export function frameSheet(
  theme: Theme,
  { width, scale }: Sheet,
  height: number,
  title: string,
  description: string,
  ...content: readonly string[]
): string {
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      role: 'img',
      width: width * scale,
      height: height * scale,
      viewBox: `0 0 ${coordinate(width)} ${coordinate(height)}`,
      'font-family': fontFamily,
      'font-size': sizes.text,
      'font-variant': 'tabular-nums',
      fill: theme.ink,
    },
    element('title', {}, escapeXml(plain(title))),
    element('desc', {}, escapeXml(plain(description, 2000) || plain(title))),
    element('rect', { width, height, fill: theme.paper }),
    ...content,
  );
}

import { element, escapeXml } from './markup.ts';
import { fontFamily, lightTheme, sizes, type Theme } from './theme.ts';
import { plain } from './words.ts';

/** How a figure looks. */
export interface ThemeOptions {
  /** Light unless said otherwise. */
  readonly theme?: Theme;
}

/** What a figure with axes needs from its caller. */
export interface FigureOptions extends ThemeOptions {
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
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      role: 'img',
      width,
      height,
      viewBox: `0 0 ${width} ${height}`,
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

/**
 * Every colour that a figure may use, by what it stands for. Heat is the one warm colour, moving air the one
 * cool one; they differ in lightness too, so that a photocopy tells them apart.
 */
export interface Theme {
  readonly name: 'light' | 'dark';
  /** The ground of the figure. */
  readonly paper: string;
  /** Text that matters, the ideal and the fit. */
  readonly ink: string;
  /** Text that explains: axes, actions, units. */
  readonly muted: string;
  /** Thin lines that tie a remark to its place, axes and brackets. */
  readonly tie: string;
  /** Lines that only guide the eye. */
  readonly faint: string;
  /** Heating and the hot tail, and the names of both. */
  readonly heat: string;
  /** Cooling in the jet, and its name. */
  readonly air: string;
  /** Ground of the window. */
  readonly wash: string;
  /** Ground of a thing set apart: the reported row, the largest share. */
  readonly raised: string;
}

/** Colours for dark lines on white. */
export const lightTheme: Theme = {
  name: 'light',
  paper: '#fcfaf5',
  ink: '#211e1a',
  muted: '#5b554b',
  tie: '#7d7568',
  faint: '#ddd6c8',
  heat: '#bf481b',
  air: '#0f4560',
  wash: '#e9f0f1',
  raised: '#f1ebde',
};

/** Colours for light lines on dark ground. */
export const darkTheme: Theme = {
  name: 'dark',
  paper: '#1a1916',
  ink: '#efebe2',
  muted: '#b3ac9e',
  tie: '#8a8375',
  faint: '#3a362f',
  heat: '#e8743f',
  air: '#a9d6e8',
  wash: '#20282b',
  raised: '#2a2721',
};

/** One family for everything. The words are kept to letters that it has: it has no Greek but mu. */
export const fontFamily = "'Atkinson Hyperlegible Next', 'Atkinson Hyperlegible', sans-serif";

/** Sizes of letters, px. */
export const sizes = { headline: 21, title: 14, text: 12, small: 11 } as const;

import { describe, expect, it } from 'vitest';
import { darkTheme, lightTheme, type Theme } from '../../src/figure/index.ts';

/** Relative luminance of a colour, WCAG 2.2, definition 'relative luminance'. */
function luminance(colour: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const v = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast ratio, WCAG 2.2. */
function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return ((high ?? 0) + 0.05) / ((low ?? 0) + 0.05);
}

/** A colour laid over a ground with an opacity. */
function over(colour: string, ground: string, opacity: number): string {
  const channel = (at: number) => {
    const mix = (c: string) => Number.parseInt(c.slice(at, at + 2), 16);
    return Math.round(opacity * mix(colour) + (1 - opacity) * mix(ground))
      .toString(16)
      .padStart(2, '0');
  };
  return `#${channel(1)}${channel(3)}${channel(5)}`;
}

it('computes contrast as WCAG does: 21 for black on white, 4.54 for #767676 on white', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
  expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
});

describe.each([lightTheme, darkTheme])('the $name theme', (theme: Theme) => {
  const grounds = [theme.paper, theme.wash, theme.raised];

  it('has text at 4.5 : 1 or more on every ground (WCAG 2.2, 1.4.3)', () => {
    for (const ground of grounds) {
      expect(contrast(theme.ink, ground)).toBeGreaterThanOrEqual(7);
      expect(contrast(theme.muted, ground)).toBeGreaterThanOrEqual(4.5);
    }
    for (const text of [theme.heat, theme.air])
      expect(contrast(text, theme.paper)).toBeGreaterThanOrEqual(4.5);
  });

  it('has lines and marks at 3 : 1 or more on every ground (WCAG 2.2, 1.4.11)', () => {
    for (const ground of grounds) {
      for (const line of [theme.tie, theme.heat, theme.air]) {
        expect(contrast(line, ground)).toBeGreaterThanOrEqual(3);
      }
    }
  });

  it('shows the pale line of the cooling at 2.5 : 1, and the fit on top of it at 3 : 1', () => {
    const pale = over(theme.air, theme.wash, 0.5);
    expect(contrast(pale, theme.wash)).toBeGreaterThanOrEqual(2.5);
    expect(contrast(theme.ink, pale)).toBeGreaterThanOrEqual(3);
  });

  it('tells heat from moving air in grey: a lightness ratio of 1.5 or more', () => {
    expect(contrast(theme.heat, theme.air)).toBeGreaterThanOrEqual(1.5);
    expect(contrast(theme.heat, theme.ink)).toBeGreaterThanOrEqual(1.5);
  });
});

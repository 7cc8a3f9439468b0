import type { BudgetLine } from '../decay/index.ts';
import { frameSheet, type SizeOptions, sheetOf, type ThemeOptions, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { drawable } from './thin.ts';
import { decimalsFor, fixed, widthOf, wrap } from './words.ts';

const usualWidth = 760;

const names: Readonly<Record<BudgetLine['source'], string>> = {
  noise: 'noise',
  ambient: 'ambient',
  drift: 'drift',
  'start-and-window': 'start and window',
  'time-base': 'time base',
  chain: 'sensor chain',
};

/**
 * The uncertainty budget as one bar of shares of the variance, largest first, with the names inside; names of
 * thin shares stand below and are tied by a line; where these do not fit side by side, one below the other.
 *
 * @returns SVG text, 760 × 150 px unless the options ask for another width
 */
export function budgetFigure(lines: readonly BudgetLine[], options: ThemeOptions & SizeOptions = {}): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const shares = sharesOf(lines);
  const total = Math.sqrt(shares.reduce((sum, l) => sum + l.contribution ** 2, 0));
  const title = 'What the uncertainty of the time constant is made of';
  const sum = total > 0 ? `: standard uncertainty ${fixed(total, decimalsFor(total))} s` : '';
  const words = wrap(`${title}${sum}`, sheet.width - 40, sizes.title, 3, true);
  const heading = words
    .map((line, i) => label(line, { x: 20, y: 30 + 18 * i, 'font-size': sizes.title, 'font-weight': 600 }))
    .join('');
  const bar = { left: 20, top: 34 + 18 * words.length, width: sheet.width - 40, height: 40 };
  if (shares.length === 0) {
    const none = label('no budget', { x: 20, y: bar.top + 24, fill: theme.muted });
    return frameSheet(theme, sheet, bar.top + 98, title, 'There is no budget.', heading, none);
  }
  const parts: string[] = [];
  const thin: { readonly words: string; readonly middle: number }[] = [];
  let left = bar.left;
  shares.forEach((line, i) => {
    const length = line.share * bar.width;
    const words = `${names[line.source]} ${inPercent(line.share)}`;
    const first = i === 0;
    parts.push(
      element('rect', {
        x: left,
        y: bar.top,
        width: length,
        height: bar.height,
        fill: first ? theme.ink : i % 2 === 1 ? theme.raised : theme.paper,
        stroke: theme.ink,
        'stroke-width': 1,
        'data-share': line.source,
      }),
    );
    if (widthOf(words, sizes.text, first) + 14 <= length) {
      parts.push(
        label(words, {
          x: left + length / 2,
          y: bar.top + bar.height / 2 + 4,
          'text-anchor': 'middle',
          fill: first ? theme.paper : theme.ink,
          'font-weight': first ? 600 : undefined,
        }),
      );
    } else {
      thin.push({ words, middle: left + length / 2 });
    }
    left += length;
  });
  const needed = thin.reduce((sum, { words }) => sum + widthOf(words, sizes.text) + 14, 0);
  // The names need not fill the bar: some room is left for them to stand near their shares.
  const stacked = needed > 0.9 * bar.width;
  // From the right, each name ends left of the one before; its line drops straight and then turns.
  let limit = bar.left + bar.width;
  thin.toReversed().forEach(({ words, middle }, i) => {
    const length = widthOf(words, sizes.text);
    const foot = bar.top + bar.height;
    if (stacked) {
      parts.push(...stackedName(theme, words, middle, foot, 18 * (thin.length - i)));
      return;
    }
    const end = Math.max(Math.min(middle + length / 2, limit), bar.left + length);
    limit = end - length - 14;
    parts.push(
      element('path', {
        d: polyline([
          [middle, foot - 6],
          [middle, foot + 7],
          [end - length / 2, foot + 24],
        ]),
        fill: 'none',
        stroke: theme.tie,
        'stroke-width': 0.9,
      }),
      label(words, { x: end - length / 2, y: foot + 37, 'text-anchor': 'middle' }),
    );
  });
  const said = shares.map((l) => `${l.label}: ${inPercent(l.share)}.`).join(' ');
  return frameSheet(
    theme,
    sheet,
    bar.top + 98 + (stacked ? Math.max(18 * thin.length - 36, 0) : 0),
    title,
    `Shares of the variance, largest first. ${said}`,
    heading,
    ...parts,
  );
}

/** A name left of a line that drops from its share; shares further left stand higher, so that none is crossed. */
function stackedName(theme: Theme, words: string, middle: number, foot: number, drop: number): string[] {
  const path = polyline([
    [middle, foot - 6],
    [middle, foot + drop],
    [middle - 8, foot + drop],
  ]);
  return [
    element('path', { d: path, fill: 'none', stroke: theme.tie, 'stroke-width': 0.9 }),
    label(words, { x: middle - 11, y: foot + drop + 4, 'text-anchor': 'end' }),
  ];
}

/** The numbers behind the budget bar, as given. */
export function budgetTable(lines: readonly BudgetLine[]): FigureTable {
  return {
    caption: 'What the uncertainty of the time constant is made of',
    columns: [
      { name: 'Source', unit: null },
      { name: 'What it stands for', unit: null },
      { name: 'Standard uncertainty', unit: 's' },
      { name: 'Share of the variance', unit: '%' },
    ],
    rows: lines.map((l) => [names[l.source], l.label, l.contribution, 100 * l.share]),
  };
}

/** Lines with a share, largest first, scaled so that the shares fill the bar. */
function sharesOf(lines: readonly BudgetLine[]): BudgetLine[] {
  const good = lines.filter((l) => l.share > 0 && drawable(l.share) && drawable(l.contribution)).slice(0, 20);
  const sum = good.reduce((s, l) => s + l.share, 0);
  return good.map((l) => ({ ...l, share: l.share / sum })).toSorted((a, b) => b.share - a.share);
}

function inPercent(share: number): string {
  const percent = 100 * share;
  return percent < 1 ? '< 1 %' : `${fixed(percent, 0)} %`;
}

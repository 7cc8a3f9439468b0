import type { BudgetLine } from '../decay/index.ts';
import { frame, type ThemeOptions, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import type { FigureTable } from './table.ts';
import { sizes } from './theme.ts';
import { drawable } from './thin.ts';
import { decimalsFor, fixed, widthOf } from './words.ts';

const width = 760;
const height = 150;
const bar = { left: 20, top: 52, width: 720, height: 40 };

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
 * thin shares stand below and are tied by a line.
 *
 * @returns SVG text, 760 × 150 px
 */
export function budgetFigure(lines: readonly BudgetLine[], options: ThemeOptions = {}): string {
  const theme = themeOf(options);
  const shares = sharesOf(lines);
  const total = Math.sqrt(shares.reduce((sum, l) => sum + l.contribution ** 2, 0));
  const title = 'What the uncertainty of the time constant is made of';
  const sum = total > 0 ? `: standard uncertainty ${fixed(total, decimalsFor(total))} s` : '';
  const heading = label(`${title}${sum}`, { x: 20, y: 30, 'font-size': sizes.title, 'font-weight': 600 });
  if (shares.length === 0) {
    const none = label('no budget', { x: 20, y: bar.top + 24, fill: theme.muted });
    return frame(theme, width, height, title, 'There is no budget.', heading, none);
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
  // From the right, each name ends left of the one before; its line drops straight and then turns.
  let limit = bar.left + bar.width;
  thin.toReversed().forEach(({ words, middle }) => {
    const length = widthOf(words, sizes.text);
    const end = Math.max(Math.min(middle + length / 2, limit), bar.left + length);
    limit = end - length - 14;
    const foot = bar.top + bar.height;
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
  return frame(
    theme,
    width,
    height,
    title,
    `Shares of the variance, largest first. ${said}`,
    heading,
    ...parts,
  );
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

import type { ChangeView } from '../../../src/server/contract/index.ts';

type Line = ChangeView['difference'][number];
export type ShownLine = Line | { readonly kind: 'gap'; readonly line: number };

/** Lines that change, each with a line before and behind; what lies between is left out. */
export function shownDifference(lines: readonly Line[], around = 1): readonly ShownLine[] {
  const near = lines.map((_, i) => {
    return lines.slice(Math.max(0, i - around), i + around + 1).some(({ kind }) => kind !== 'same');
  });
  const shown: ShownLine[] = [];
  lines.forEach((line, i) => {
    if (near[i] === true) shown.push(line);
    else if (near[i - 1] === true && near.slice(i).includes(true))
      shown.push({ kind: 'gap', line: line.line });
  });
  return shown;
}

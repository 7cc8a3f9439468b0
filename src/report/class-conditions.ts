import type { FolderClass } from '../analysis/index.ts';
import { percentWords, spreadWords } from '../class/index.ts';
import { conditionStrips, conditionsFigure, conditionsTable } from '../figure/index.ts';
import { formatSignificant, type Interval } from '../quantity/index.ts';
import type { Block, Text } from './document.ts';
import { drawing, paperTheme } from './drawings.ts';
import { halfWidth, type Quoting, quotedPair } from './values.ts';

/**
 * The spread within and between groups, condition by condition.
 *
 * @param nameOf what a group is called in this document
 */
export function conditionBlocks(
  conditions: FolderClass['conditions'],
  nameOf: (group: string) => string,
  quoting: Quoting,
): Block[] {
  if (conditions.length === 0) return [];
  const strips = conditionStrips(conditions, nameOf);
  const caption =
    'Every group’s time constant with its 95 % interval about the robust mean of its condition; the band within which nobody is asked to look again is shaded.';
  const part = (of: number | null | undefined, interval: Interval | null | undefined) =>
    of === null || of === undefined ? '' : spreadWords(of, interval ?? null);
  return [
    { kind: 'heading', level: 1, text: 'Spread within and between groups' },
    {
      kind: 'table',
      table: {
        caption:
          'Robust mean of the groups (Algorithm A of ISO 13528) with its expanded uncertainty (coverage 95 %); standard deviations of trials of one group, the repeatability, and of single trials of any group, the reproducibility (ISO 5725-2), each with its 95 % interval.',
        columns: [
          { title: 'condition', align: 'start' },
          { title: 'groups', align: 'end' },
          { title: 'trials', align: 'end' },
          { title: 'τ / s', align: 'decimal' },
          { title: 'U / s', align: 'decimal' },
          { title: 'within a group', align: 'end' },
          { title: 'any group', align: 'end' },
          { title: 'look again beyond', align: 'end' },
          { title: 'over theory', align: 'decimal' },
        ],
        rows: conditions.map((one): Text[] => {
          const { body, flow, groups, location, interval, precision, predicted } = one;
          const [value, uncertainty] =
            interval !== null
              ? quotedPair(location, halfWidth(interval), quoting)
              : [formatSignificant(location, 3), ''];
          return [
            `${body} at ${flow}`,
            String(groups.length),
            String(groups.reduce((sum, { trials }) => sum + trials, 0)),
            value,
            uncertainty,
            part(precision?.repeatability, precision?.repeatabilityInterval),
            part(precision?.reproducibility, precision?.reproducibilityInterval),
            beyond(one),
            predicted === null ? '' : formatSignificant(location / predicted, 3),
          ];
        }),
      },
    },
    ...parted(strips, mostStrips).map((some, i): Block => {
      const drawn = conditionsFigure(some, { theme: paperTheme });
      return { kind: 'figure', figure: drawing(drawn, i === 0 ? caption : null, conditionsTable(some)) };
    }),
  ];
}

/** Strips of conditions that a page bears. */
const mostStrips = 5;

function parted<T>(things: readonly T[], most: number): T[][] {
  const count = Math.ceil(things.length / most);
  return Array.from({ length: count }, (_, i) => things.slice(i * most, (i + 1) * most));
}

/** Departure from the robust mean beyond which a group is asked to look again. */
function beyond({ band, location }: FolderClass['conditions'][number]): string {
  return band === null ? 'too few groups' : `±${percentWords(Math.log(band[1] / location))}`;
}

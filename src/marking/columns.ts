import type { SubmittedQuantity } from '../experiment/index.ts';
import type { Dimension } from '../quantity/index.ts';

/** A quantity that groups hand in: how its column is headed and what it is called in a sentence. */
export interface QuantityColumn {
  readonly quantity: SubmittedQuantity;
  /** Heading in sheets that Emberline writes, without the unit. */
  readonly name: string;
  readonly dimension: Dimension;
  /** As it is typed; empty for a pure number. */
  readonly unit: string;
  /** Within a sentence: `the time constant at 36.8 %`. */
  readonly words: string;
  /** Other headings that are understood, as `plainHeading` leaves them. */
  readonly aliases: readonly string[];
}

/** Every quantity that a sheet can hold, in the order of its columns. */
export const quantityColumns: readonly QuantityColumn[] = [
  {
    quantity: 'point',
    name: 'time constant at 36.8 %',
    dimension: 'time',
    unit: 's',
    words: 'the time constant at 36.8 %',
    aliases: [
      'time constant 36.8 %',
      'time constant 36.8 % point',
      'time constant from the 36.8 % point',
      'time constant by the 36.8 % point',
      'tau 36.8 %',
      'tau at 36.8 %',
      'tau 36.8 % point',
      'tau point',
      'point',
    ],
  },
  {
    quantity: 'origin',
    name: 'time constant through origin',
    dimension: 'time',
    unit: 's',
    words: 'the time constant through the origin',
    aliases: [
      'time constant through the origin',
      'time constant fit through origin',
      'time constant regression through origin',
      'tau through origin',
      'tau through the origin',
      'tau origin',
      'origin',
    ],
  },
  {
    quantity: 'intercept',
    name: 'time constant with intercept',
    dimension: 'time',
    unit: 's',
    words: 'the time constant with an intercept',
    aliases: [
      'time constant with an intercept',
      'time constant fit with intercept',
      'time constant regression with intercept',
      'tau with intercept',
      'tau with an intercept',
      'tau intercept',
      'intercept',
    ],
  },
  {
    quantity: 'standard-uncertainty',
    name: 'standard uncertainty of time constant',
    dimension: 'time',
    unit: 's',
    words: 'the standard uncertainty',
    aliases: [
      'standard uncertainty of the time constant',
      'standard uncertainty of tau',
      'standard uncertainty',
      'standard error of time constant',
      'standard error of tau',
      'standard error',
      'u',
      'u tau',
    ],
  },
  {
    quantity: 'expanded-uncertainty',
    name: 'expanded uncertainty of time constant',
    dimension: 'time',
    unit: 's',
    words: 'the expanded uncertainty',
    aliases: [
      'expanded uncertainty of the time constant',
      'expanded uncertainty of tau',
      'expanded uncertainty',
      '95 % uncertainty',
      'U',
      'U tau',
    ],
  },
  {
    quantity: 'reynolds',
    name: 'Reynolds number',
    dimension: 'ratio',
    unit: '',
    words: 'the Reynolds number',
    aliases: ['reynolds', 're'],
  },
  {
    quantity: 'nusselt',
    name: 'Nusselt number',
    dimension: 'ratio',
    unit: '',
    words: 'the Nusselt number',
    aliases: ['nusselt', 'nu'],
  },
  {
    quantity: 'heat-transfer-coefficient',
    name: 'heat transfer coefficient',
    dimension: 'heat-transfer-coefficient',
    unit: 'W/(m2 K)',
    words: 'the heat transfer coefficient',
    aliases: ['convection coefficient', 'convective coefficient', 'coefficient of heat transfer', 'h'],
  },
  {
    quantity: 'predicted',
    name: 'predicted time constant',
    dimension: 'time',
    unit: 's',
    words: 'the predicted time constant',
    aliases: ['time constant predicted', 'predicted tau', 'tau predicted', 'predicted', 'prediction'],
  },
  {
    quantity: 'biot',
    name: 'Biot number',
    dimension: 'ratio',
    unit: '',
    words: 'the Biot number',
    aliases: ['biot', 'bi'],
  },
  {
    quantity: 'predicted-standard-uncertainty',
    name: 'standard uncertainty of prediction',
    dimension: 'time',
    unit: 's',
    words: 'the standard uncertainty of the prediction',
    aliases: [
      'standard uncertainty of the prediction',
      'standard uncertainty of predicted time constant',
      'standard uncertainty of the predicted time constant',
      'u predicted',
      'u tau predicted',
    ],
  },
  {
    quantity: 'predicted-expanded-uncertainty',
    name: 'expanded uncertainty of prediction',
    dimension: 'time',
    unit: 's',
    words: 'the expanded uncertainty of the prediction',
    aliases: [
      'expanded uncertainty of the prediction',
      'expanded uncertainty of predicted time constant',
      'expanded uncertainty of the predicted time constant',
      'U predicted',
      'U tau predicted',
    ],
  },
];

/** Columns that say what a row is about. */
const placeColumns = ['group', 'recording', 'body', 'flow', 'repeat', 'note'] as const;

export type PlaceColumn = (typeof placeColumns)[number];

const placeAliases: Readonly<Record<PlaceColumn, readonly string[]>> = {
  group: ['group code', 'team'],
  recording: ['file', 'recording file', 'path', 'trial'],
  body: ['sphere', 'sensor body'],
  flow: ['flow setting'],
  repeat: ['repeat number', 'repetition'],
  note: ['notes', 'remark', 'remarks', 'comment'],
};

/** Heading of a quantity with its unit, as Emberline writes it. */
export function headingOf({ name, unit }: QuantityColumn): string {
  return unit === '' ? name : `${name} / ${unit}`;
}

/** The column of a quantity. */
export function columnOf(quantity: SubmittedQuantity): QuantityColumn {
  const found = quantityColumns.find((one) => one.quantity === quantity);
  if (found === undefined) throw new RangeError(`There is no column for ${quantity}.`);
  return found;
}

/** A heading without what only looks different: case, underscores, signs, blanks; u and U stay apart. */
function plainHeading(text: string): string {
  const plain = text
    .normalize('NFKC')
    .replace(/[τΤ]/g, 'tau')
    .replace(/(\d),(\d)/g, '$1.$2')
    .replace(/[_:;,'"()[\]{}]+/g, ' ')
    .replace(/\s*%/g, ' %')
    .replace(/\s+/g, ' ')
    .trim();
  return plain
    .split(' ')
    .map((word, i) => (i === 0 && /^U$/.test(word) ? word : word.toLowerCase()))
    .join(' ');
}

/** What a heading without its unit stands for; null for a column that is none of ours. */
export function columnFor(
  heading: string,
):
  | { readonly kind: 'place'; readonly place: PlaceColumn }
  | { readonly kind: 'quantity'; readonly column: QuantityColumn }
  | null {
  const plain = plainHeading(heading);
  if (plain === '') return null;
  const place = placeColumns.find((one) => one === plain || placeAliases[one].includes(plain));
  if (place !== undefined) return { kind: 'place', place };
  const column = quantityColumns.find(({ name, aliases }) => {
    return plainHeading(name) === plain || aliases.includes(plain);
  });
  return column === undefined ? null : { kind: 'quantity', column };
}

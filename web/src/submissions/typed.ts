/** What is typed into a sheet on the page, and the request that hands it in; for a group as for whoever enters for it. */
import type { AskedQuantity, EnterRequest, SubmissionsView } from '../../../src/server/contract/index.ts';
import { withoutUnit } from './words.ts';

/** Values of a recording, as they are typed. */
type Typed = Readonly<Partial<Record<AskedQuantity, string>>>;

/** Values by the path of their recording. */
export type TypedRows = Readonly<Record<string, Typed>>;

/** The sheet that counts, as far as typing goes on from it. */
interface Before {
  readonly rows: readonly {
    readonly recording: string | null;
    readonly note: string;
    readonly values: readonly { readonly quantity: AskedQuantity; readonly written: string }[];
  }[];
}

/** What the sheet that counts holds, so that it can be changed; nothing without one. */
export function typedBefore(before: Before | null, asked: SubmissionsView['asked']): TypedRows {
  const rows = (before?.rows ?? []).flatMap(({ recording, values }) => {
    if (recording === null) return [];
    const typed = values.map(({ quantity, written }) => {
      const unit = asked.find((one) => one.quantity === quantity)?.unit ?? '';
      return [quantity, withoutUnit(written, unit)] as const;
    });
    return [[recording, Object.fromEntries(typed)] as const];
  });
  return Object.fromEntries(rows);
}

/** Whether anything is typed for a recording. */
function isFilled(typed: Typed): boolean {
  return Object.values(typed).some((text) => text.trim() !== '');
}

/** The same for all of them. */
export function anyFilled(rows: TypedRows): boolean {
  return Object.values(rows).some(isFilled);
}

/**
 * The rows with values, with the notes that they had before.
 *
 * @param paths of the recordings that the values may be about
 */
export function requestOf(rows: TypedRows, before: Before | null, paths: readonly string[]): EnterRequest {
  return {
    rows: Object.entries(rows)
      .filter(([path, typed]) => paths.includes(path) && isFilled(typed))
      .map(([recording, values]) => ({
        recording,
        note: before?.rows.find((row) => row.recording === recording)?.note ?? '',
        values,
      })),
  };
}

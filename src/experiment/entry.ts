/**
 * An entry by its code, and nothing that the record merely inherits.
 *
 * @returns undefined where there is none
 */
export function entryOf<T>(record: Readonly<Record<string, T>>, wanted: string): T | undefined {
  return Object.hasOwn(record, wanted) ? record[wanted] : undefined;
}

import type { Column } from './columns.ts';

/** A column as Table Schema (Frictionless Data, version 1) describes a field; `unit` and `source` are added to it. */
export interface Field {
  readonly name: string;
  readonly type: Column['type'];
  readonly description: string;
  readonly unit?: string;
  readonly source: string;
  readonly constraints?: { readonly enum?: readonly string[]; readonly required?: boolean };
}

/** Every column with its type, unit and meaning. */
export function describedFields(columns: readonly Column[]): Field[] {
  return columns.map((column) => ({
    name: column.name,
    type: column.type,
    description: column.meaning,
    ...(column.unit === null ? {} : { unit: column.unit }),
    source: column.source,
    ...(column.type === 'string' && column.oneOf !== undefined
      ? { constraints: { enum: column.oneOf } }
      : {}),
  }));
}

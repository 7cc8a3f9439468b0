import type { SubmittedQuantity } from '../experiment/index.ts';

/** A value as it stands in a sheet. */
export interface WrittenValue {
  readonly quantity: SubmittedQuantity;
  /** As it was written, with its unit. */
  readonly written: string;
  /** SI. */
  readonly value: number;
  /** Half of the last digit that was written, SI. */
  readonly rounding: number;
}

/** A row of a sheet. */
export interface SheetRow {
  /** Of the file, from 1. */
  readonly line: number;
  /** As written; null where the row says nothing of it. */
  readonly group: string | null;
  readonly recording: string | null;
  readonly body: string | null;
  readonly flow: string | null;
  readonly repeat: number | null;
  readonly note: string;
  readonly values: readonly WrittenValue[];
}

/** Something in a sheet that could not be used, or was taken in one of several ways. */
export interface SheetFault {
  /** Of the file, from 1; null for the file as a whole. */
  readonly line: number | null;
  /** Heading of the column, where it is about one. */
  readonly column: string | null;
  /** One sentence: what was seen. */
  readonly message: string;
  /** One sentence: what to do. */
  readonly action: string;
}

/** A sheet that was read. */
export interface ReadSheet {
  readonly rows: readonly SheetRow[];
  readonly faults: readonly SheetFault[];
}

/** The numbers behind a figure, for a reader who does not see it and for export. */
export interface FigureTable {
  readonly caption: string;
  readonly columns: readonly { readonly name: string; readonly unit: string | null }[];
  /** One entry a column; null where there is no value. */
  readonly rows: readonly (readonly (string | number | null)[])[];
}

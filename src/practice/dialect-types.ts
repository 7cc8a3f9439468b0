/** What a file's head may tell, ready to be written. */
export interface HeadFacts {
  readonly bench: string;
  /** Start by the logger's clock: `2026-03-09` and `10:12:31`. */
  readonly date: string;
  readonly time: string;
  /** Stated sampling rate, Hz, with the file's decimal mark. */
  readonly rate: string;
  /** Unit of the readings. */
  readonly unit: string;
}

/** A column's name and unit; no unit where it has none. */
export interface ColumnLabel {
  readonly name: string;
  readonly unit: string | null;
  /** A few words, for loggers with a row of remarks. */
  readonly comment: string;
}

/** How the time of a row is written. */
export type TimeStyle =
  | { readonly kind: 'none' }
  /** From the start of the part, in a unit of which so many make a second. */
  | { readonly kind: 'number'; readonly unit: string; readonly perSecond: number }
  /** Number of the row, counted from 1. */
  | { readonly kind: 'sample' }
  | {
      readonly kind: 'clock';
      /** Whether the date stands in the same cell, in one of its own, or nowhere. */
      readonly date: 'joined' | 'apart' | 'none';
      /** Whether stamps tell more than whole seconds. */
      readonly fine: boolean;
      /** A clock that is hours off, so that midnight comes; or one that is put back by an hour on the way. */
      readonly oddity: 'none' | 'midnight' | 'put-back';
    };

/** What stands in place of a reading that is none. */
export interface Words {
  readonly over: string;
  readonly under: string;
  readonly lost: string;
}

/** A further column of readings. */
interface SecondChannel {
  readonly kind: 'reference junction' | 'cycles';
  /** Where it stands with respect to the sensor's. */
  readonly place: 'before' | 'after';
}

/** Everything in which the text of one logger differs from another's. */
export interface Layout {
  /** One line for a person. */
  readonly about: string;
  readonly encoding: 'utf-8' | 'utf-8 with mark' | 'utf-16le with mark' | 'latin-1';
  readonly delimiter: '\t' | ',' | ';' | ' ';
  readonly decimal: '.' | ',';
  readonly lineEnd: '\n' | '\r\n';
  /** Least width of a cell, filled with spaces on its left; 0 for none. */
  readonly width: number;
  /** Lines before the header, if any; whether one of them states the rate, and the unit. */
  readonly preamble: {
    lines(facts: HeadFacts): readonly string[];
    readonly rate: boolean;
    readonly unit: boolean;
  };
  /** Rows of cells above the numbers. */
  readonly header: {
    rows(columns: readonly ColumnLabel[]): readonly (readonly string[])[];
    readonly unit: boolean;
  };
  readonly time: TimeStyle;
  readonly timeName: string;
  readonly sensorName: string;
  /** °C and µV, or degC and uV. */
  readonly units: 'symbols' | 'letters';
  /** Whether rows begin with their number, which the header does not name. */
  readonly numbered: boolean;
  readonly second: SecondChannel | null;
  readonly words: Words | null;
  readonly trailingDelimiter: boolean;
  /** Whether the logger began again, header and all, during the baseline. */
  readonly restarts: boolean;
  /** Whether the end of the last line is missing. */
  readonly cut: boolean;
  /** Empty lines at the end. */
  readonly blankLines: number;
}

import type { KeptTrial } from '../analysis/index.ts';
import type { RigTerm } from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import type { Cell } from '../export/index.ts';
import type { ReferenceBook, RigBook } from '../rig/index.ts';

/** What is known of one term. */
export interface QueryTerm {
  readonly term: RigTerm['term'];
  readonly experiment: Experiment;
  readonly trials: readonly KeptTrial[];
  /** With what was taken back. */
  readonly checks: RigBook;
  readonly references: ReferenceBook;
}

/** A column of a table that can be asked, with what there is to know about it. */
export interface QueryColumn {
  readonly name: string;
  /** `moment` is a time in UTC. */
  readonly type: 'string' | 'number' | 'integer' | 'boolean' | 'moment';
  /** SI, by its symbol; null for what has none, 1 for a ratio. */
  readonly unit: string | null;
  readonly meaning: string;
}

/** A table that can be asked. A moment is given as ISO 8601 with a zone. */
export interface QueryTable {
  readonly name: string;
  readonly meaning: string;
  readonly columns: readonly QueryColumn[];
  readonly rows: readonly (readonly Cell[])[];
}

/** An answer: names of columns, and rows in their order. */
export interface QueryAnswer {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
  /** Whether there were more rows than were asked for. */
  readonly cut: boolean;
}

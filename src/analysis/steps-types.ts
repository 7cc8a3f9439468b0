/** A formula before it is set: TeX for the eye, plain text for screen readers and for copying. */
export interface WrittenFormula {
  readonly tex: string;
  readonly plain: string;
  /** Author and year, or the standard; 'common practice, no source' where there is none. */
  readonly source: string;
}

/** Numbers behind a step, as text, rounded for reading. */
interface StepTable {
  readonly columns: string[];
  readonly rows: string[][];
}

/** One step of an analysis with a recording's own numbers in it, before its formulas are set. */
export interface WrittenStep {
  readonly id: string;
  readonly title: string;
  /** Paragraphs of plain text. */
  readonly text: string[];
  readonly formulas: WrittenFormula[];
  readonly table: StepTable | null;
  /** What the step comes to, in one sentence. */
  readonly result: string;
  /** Of the whole step; null where its formulas name their own. */
  readonly source: string | null;
}

/** A step whose formulas are set as MathML. */
export interface WorkedStep extends Omit<WrittenStep, 'formulas'> {
  readonly formulas: { readonly mathml: string; readonly plain: string; readonly source: string }[];
}

/** One recording worked through. */
export interface WorkedSteps {
  readonly path: string;
  readonly steps: WorkedStep[];
}

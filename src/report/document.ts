import type { Severity } from '../remark/index.ts';

/** A run of text. A formula in the line carries its wording for those who do not see it. */
export type Inline =
  | string
  | { readonly kind: 'strong' | 'emphasis' | 'code'; readonly text: string }
  | { readonly kind: 'math'; readonly tex: string; readonly plain: string };

/** Text as runs; a string alone is plain. */
export type Text = string | readonly Inline[];

export interface DocumentTable {
  readonly caption: string | null;
  readonly columns: readonly {
    readonly title: string;
    /** `decimal`: numbers one below the other at their decimal mark. */
    readonly align: 'start' | 'end' | 'decimal';
    /** Share of the width, as a number beside those of the other columns; as wide as its content where left out. */
    readonly share?: number;
  }[];
  readonly rows: readonly (readonly Text[])[];
  /** Rows to be written into by hand are higher. */
  readonly byHand?: boolean;
}

export interface DocumentFigure {
  /** A drawing of the figure room, in the light theme. */
  readonly svg: string;
  /** What it shows, for those who do not see it. */
  readonly alt: string;
  readonly caption: Text | null;
  /** Part of the text's width, 0.1 to 1. */
  readonly width: number;
  /** The numbers behind it; folded away on a screen, left out on paper. */
  readonly table: DocumentTable | null;
}

/** A picture of the course's own, as PNG or JPEG. */
interface DocumentPicture {
  readonly bytes: Uint8Array;
  readonly type: 'image/png' | 'image/jpeg';
  readonly alt: string;
  readonly caption: Text | null;
  readonly width: number;
}

/** A part of a document. */
export type Block =
  | { readonly kind: 'heading'; readonly level: 1 | 2 | 3; readonly text: string }
  | { readonly kind: 'paragraph'; readonly text: Text }
  | { readonly kind: 'list'; readonly ordered: boolean; readonly items: readonly Text[] }
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [name: string, value: Text])[] }
  | { readonly kind: 'table'; readonly table: DocumentTable }
  | { readonly kind: 'figure'; readonly figure: DocumentFigure }
  | { readonly kind: 'picture'; readonly picture: DocumentPicture }
  | { readonly kind: 'formula'; readonly tex: string; readonly plain: string; readonly source: string | null }
  | {
      readonly kind: 'remark';
      /** At its place in the figure above; null where there is none. */
      readonly number: number | null;
      readonly severity: Severity;
      readonly message: string;
      readonly action: string | null;
    }
  /** What has to be said to those who heat bodies and open valves. */
  | { readonly kind: 'caution'; readonly text: Text }
  /** For whoever speaks; only slides show it, and only to the speaker. */
  | { readonly kind: 'notes'; readonly text: Text }
  | { readonly kind: 'page-break' };

export type Paper = 'a4' | 'us-letter';

/** A document before it is set: the same for paper, page and slides. */
export interface Report {
  readonly title: string;
  readonly subtitle: string | null;
  /** Small print at the foot of every page. */
  readonly foot: string;
  readonly blocks: readonly Block[];
  /** `dense`: one page of small type, for a sheet at the bench. */
  readonly density: 'usual' | 'dense';
}

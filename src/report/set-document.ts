import type { Experiment } from '../experiment/index.ts';
import type { MadeFile } from '../export/index.ts';
import type { Paper, Report } from './document.ts';
import { documentHtml } from './html.ts';
import type { Origin } from './origin.ts';
import { type DocumentSettings, documentSettings } from './settings.ts';
import { slidesHtml } from './slides.ts';
import { typesetPdf } from './typeset.ts';

/** How a document is wanted; null for what the experiment file says. */
export interface WantedSetting {
  /** `slides`: one HTML file for the projector. */
  readonly format: 'pdf' | 'html' | 'slides';
  readonly paper: Paper | null;
  /** Significant figures of uncertainties. */
  readonly figures: 1 | 2 | null;
}

/** What documents of a folder are made by. */
export interface DocumentMaking {
  readonly experiment: Experiment;
  readonly origin: Origin;
  readonly settings: DocumentSettings;
}

/** A document as a file. */
export interface MadeDocument extends MadeFile {
  readonly title: string;
}

/** What the experiment file says of documents, where nothing else is wanted. */
export function settingsFor(experiment: Experiment, { paper, figures }: WantedSetting): DocumentSettings {
  const own = documentSettings(experiment);
  return { paper: paper ?? own.paper, quoting: figures === null ? own.quoting : { figures } };
}

/** The ending of the file of a document. */
export function documentEnding(format: WantedSetting['format']): string {
  return format === 'slides' ? '-slides.html' : `.${format}`;
}

/**
 * Sets a document.
 *
 * @param name of its file, without ending
 * @throws Error where it cannot be set
 */
export async function setDocument(
  report: Report,
  name: string,
  { format, paper }: { readonly format: WantedSetting['format']; readonly paper: Paper },
  remarks: readonly string[] = [],
): Promise<MadeDocument> {
  const made = { name: `${name}${documentEnding(format)}`, title: report.title, remarks };
  if (format === 'pdf') return { ...made, type: 'application/pdf', bytes: await typesetPdf(report, paper) };
  const html = await (format === 'slides' ? slidesHtml(report) : documentHtml(report));
  return { ...made, type: 'text/html; charset=utf-8', bytes: Buffer.from(html, 'utf8') };
}

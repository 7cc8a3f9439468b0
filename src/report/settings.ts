import type { Experiment } from '../experiment/index.ts';
import type { Paper } from './document.ts';
import type { Quoting } from './values.ts';

/** How the documents of a course are set. */
export interface DocumentSettings {
  readonly paper: Paper;
  readonly quoting: Quoting;
}

/** What `report` in the experiment file says of documents: A4 and two figures where it says nothing. */
export function documentSettings({ report }: Experiment): DocumentSettings {
  return {
    paper: report.paper === 'A4' ? 'a4' : 'us-letter',
    quoting: { figures: report['uncertainty-figures'] },
  };
}

import { correlations } from '../../src/prediction/index.ts';
import { commandsPage } from './commands.ts';
import { correlationsPage } from './correlations.ts';
import { drawCorrelation } from './draw-correlation.ts';
import { experimentFilePage } from './experiment-file.ts';
import { remarksPage } from './remarks.ts';
import { resultsPage } from './results.ts';

/** Folder of the pages that are made. */
export const referenceFolder = 'docs/reference';

/** Every file that is made, by its path in the reference folder. */
export function referencePages(): ReadonlyMap<string, string> {
  return new Map([
    ['commands.md', commandsPage()],
    ['experiment-file.md', experimentFilePage()],
    ['remarks.md', remarksPage()],
    ['correlations.md', correlationsPage()],
    ['results.md', resultsPage()],
    ...correlations.map((one) => [`correlations/${one.id}.svg`, drawCorrelation(one)] as const),
  ]);
}

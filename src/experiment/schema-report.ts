import { z } from 'zod';

/** How the documents of the course are set. */
export const report = z.strictObject({
  'uncertainty-figures': z
    .literal([1, 2], { error: 'must be 1 or 2' })
    .describe('Significant figures of an uncertainty; the value beside it ends at the same place.')
    .default(2),
  paper: z
    .enum(['A4', 'US Letter'], { error: 'must be A4 or US Letter' })
    .describe('Paper of the PDF files.')
    .default('A4'),
});

import { z } from 'zod';

const paper = z.enum(['a4', 'letter']).optional().describe('Of a PDF; else as the experiment file says.');
const figures = z
  .enum(['1', '2'])
  .optional()
  .describe('Significant figures of uncertainties; else as the experiment file says.');
const format = z.enum(['pdf', 'html']).describe('A tagged PDF, or one HTML file that needs nothing else.');
const recording = z
  .string()
  .min(1)
  .max(1000)
  .describe('Path from the experiment folder, with / between its parts.');

export const trialQuery = z.object({ recording, format, paper, figures });
export const workedQuery = z.object({ recording, format, paper, figures });
export const groupQuery = z.object({
  group: z.string().min(1).max(100),
  format,
  paper,
  figures,
  pages: z.enum(['true', 'false']).default('false').describe('Each trial in full behind the summary.'),
});
export const classReportQuery = z.object({
  section: z.string().min(1).max(100).optional().describe('Of one section; else of the whole class.'),
  format,
  paper,
  figures,
});
export const benchSheetQuery = z.object({ format, paper });
export const briefingQuery = z.object({
  format: z.enum(['pdf', 'html', 'slides']).describe('A hand-out, or slides as one HTML file.'),
  paper,
  example: recording
    .optional()
    .describe('The recording shown as a good one; else the best of the folder, or a simulated one.'),
});

export const resultsQuery = z.object({
  format: z
    .enum(['csv', 'json', 'parquet', 'xlsx', 'package'])
    .describe('One row a trial; `package` is all formats as a Frictionless Data Package, in a ZIP archive.'),
});
export const coolingQuery = z.object({ recording, format: z.enum(['csv', 'xlsx']) });
export const figureQuery = z.object({ recording, format: z.enum(['svg', 'png']) });

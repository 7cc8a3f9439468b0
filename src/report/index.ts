export { type BenchSheetInput, benchSheet } from './bench-sheet.ts';
export { briefing } from './briefing.ts';
export { practiceExamples } from './briefing-examples.ts';
export { type OwnPicture, type OwnWords, ownWords } from './briefing-markdown.ts';
export { type OwnFolder, ownParts } from './briefing-own.ts';
export {
  type BriefingExample,
  type BriefingExamples,
  type BriefingInput,
  type BriefingPart,
  recordedExample,
} from './briefing-types.ts';
export type {
  Block,
  DocumentFigure,
  DocumentPicture,
  DocumentTable,
  Inline,
  Paper,
  Report,
  Text,
} from './document.ts';
export { type GroupReportInput, groupReport } from './group.ts';
export { documentHtml } from './html.ts';
export { madeBy, type Origin } from './origin.ts';
export { slidesHtml } from './slides.ts';
export { trialReport } from './trial.ts';
export { TypesetError, typesetPdf } from './typeset.ts';
export type { Quoting } from './values.ts';
export { workedReport } from './worked.ts';

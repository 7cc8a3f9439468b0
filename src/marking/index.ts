export { blankSheet, filledSheet, type TextTable } from './blank-sheet.ts';
export { type CellRows, cellsOfText, mostColumns, mostRows, type NoSheet, tooManyRows } from './cells.ts';
export { headingOf, quantityColumns } from './columns.ts';
export {
  aboutWords,
  feedbackOf,
  feedbackTemplates,
  missingTogether,
  signedPercent,
  valueWords,
} from './feedback.ts';
export { feedbackTexts } from './feedback-texts.ts';
export { type MarkedInput, marksTable } from './marks.ts';
export { groupOf, type KnownRecording, type PlacedRow, placeRows } from './placed-rows.ts';
export { readSheet } from './read-sheet.ts';
export { TemplateError } from './template.ts';
export type { ReadSheet, SheetFault } from './types.ts';

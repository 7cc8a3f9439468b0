export { blankSheet, filledSheet, type TextTable } from './blank-sheet.ts';
export { type CellRows, cellsOfText, mostColumns, mostRows, type NoSheet, tooManyRows } from './cells.ts';
export { columnOf, headingOf, quantityColumns } from './columns.ts';
export {
  aboutWords,
  type FeedbackTemplates,
  feedbackOf,
  feedbackTemplates,
  missingTogether,
  percentWords,
  valueWords,
} from './feedback.ts';
export { feedbackTexts } from './feedback-texts.ts';
export { type MarkedInput, marksTable, slipsOf } from './marks.ts';
export {
  groupOf,
  type KnownRecording,
  type PlacedRow,
  type PlacedSheet,
  placeRows,
  type RosterFlag,
} from './placed-rows.ts';
export { readSheet } from './read-sheet.ts';
export { asPlainMarkdown, fillTemplate, parseTemplate, type Template, TemplateError } from './template.ts';
export type { ReadSheet, SheetFault, SheetRow, SubmittedQuantity, WrittenValue } from './types.ts';

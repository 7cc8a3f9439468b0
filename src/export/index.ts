export { type Column, columnsOf, resultColumns } from './columns.ts';
export type { ExportedTrial, ExportFile, ExportOrigin, ResultsFormat, ResultsInput } from './types.ts';
export { resultsFormats, writeResults, writeResultsPackage } from './write-results.ts';

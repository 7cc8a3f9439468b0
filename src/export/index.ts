export { type Column, columnsOf, resultColumns } from './columns.ts';
export { CoolingError, type CoolingTable, coolingTable } from './cooling-table.ts';
export { NamesError, readNames } from './names.ts';
export type { ExportedTrial, ExportFile, ExportOrigin, ResultsFormat, ResultsInput } from './types.ts';
export { type CoolingInput, writeCooling } from './write-cooling.ts';
export { resultsFormats, writeResults, writeResultsPackage } from './write-results.ts';

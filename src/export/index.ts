export { type Cell, type Column, resultColumns } from './columns.ts';
export { CoolingError, coolingTable } from './cooling-table.ts';
export { csvText } from './csv.ts';
export { NamesError, readNames } from './names.ts';
export { sheetFile, sheetFormats, textTableCsv } from './sheet-file.ts';
export { plainText } from './table.ts';
export type { ExportedTrial, ExportOrigin, ResultsInput } from './types.ts';
export { writeCooling } from './write-cooling.ts';
export { resultsFormats, writeResults, writeResultsPackage } from './write-results.ts';

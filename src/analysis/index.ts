export { type AnalysisRequest, type AnalyzedFile, analyzeFile } from './analyze-file.ts';
export {
  expectedRecordings,
  type FoundFolder,
  findRecordings,
  measureFolder,
  type PlacedRecording,
} from './measure.ts';
export type { AskedRecording, ComparedRecording, MeasuredFolder } from './pool.ts';
export { type SensorSettings, sensorSettings } from './sensor.ts';
export { SensorError, type SensorTrouble } from './sensor-error.ts';
export { experimentDecaySettings } from './settings.ts';
export { traceFigureData } from './trace-data.ts';
export {
  dialectWords,
  expandedUncertainty,
  grouped,
  hertz,
  methodWords,
  seconds,
  timeConstantWords,
  verdictWords,
} from './words.ts';

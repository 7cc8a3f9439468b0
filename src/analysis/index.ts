export {
  type AnalysisRequest,
  type AnalyzedFile,
  analyzeFile,
  type OpenRequest,
  readOptionsFor,
  recordingInDegrees,
} from './analyze-file.ts';
export { type LongWork, readableDetails, withAnalysis, withSettledAnalysis } from './asked-analysis.ts';
export { classOfFolder, type FolderClass, UnknownSectionError } from './class-of-folder.ts';
export type { FolderComparison } from './comparison.ts';
export { decidedAbout, fromFolder } from './decided.ts';
export type { DetailAnswer, DetailOrder } from './detail-work.ts';
export { type EarlierRecordings, earlierRecordings } from './earlier-recordings.ts';
export { FolderAnalysis, type FolderAnalysisOptions, openAnalysis } from './folder-analysis.ts';
export { UnknownGroupError, UnknownRecordingError } from './folder-errors.ts';
export { withMarks } from './found-marks.ts';
export type { HandedInFolder } from './handed-in.ts';
export { type Keeper, keeperFor } from './keep-analysis.ts';
export { type KeptTrial, keptTrials } from './kept-trials.ts';
export { brokenOff, type ListCrew, listCrew } from './list-crew.ts';
export { type Analyst, analyzeForList, type ListAnswer, type ListOrder } from './list-work.ts';
export type { FolderChange, FolderList } from './listed-folder.ts';
export type { MarkedGroup, MarkedRow } from './marked-group.ts';
export {
  expectedRecordings,
  type FoundFolder,
  findRecordings,
  type PlacedRecording,
} from './measure.ts';
export { measureFolder } from './measure-folder.ts';
export { noiseWords } from './noise-words.ts';
export type { AskedRecording, ComparedRecording, MeasuredFolder } from './pool.ts';
export { type RecordingResult, recordingResult } from './recording-result.ts';
export {
  type ReferencePlace,
  ReferenceRunError,
  referencePlace,
  referenceResult,
} from './reference-result.ts';
export { analyzedWithRig, checksThatCount, referenceRunsThatCount } from './rig-of-recording.ts';
export { type CourseTerms, correlationOfTerms, courseTerms, rigTerms } from './rig-terms.ts';
export { type SensorSettings, sensorSettings } from './sensor.ts';
export { SensorError, type SensorTrouble } from './sensor-error.ts';
export { experimentDecaySettings } from './settings.ts';
export { type StepsInput, workedSteps, writtenSteps } from './steps.ts';
export type { WorkedStep, WorkedSteps, WrittenStep } from './steps-types.ts';
export { knownRecordings, NothingHandedInError, SubmissionDesk } from './submission-desk.ts';
export { type ThreadCrew, threadCrew } from './thread-crew.ts';
export { traceFigureData } from './trace-data.ts';
export type { TrialDetail } from './trial-detail.ts';
export type {
  RecordingDetail,
  RecordingSummary,
  StatedTimeConstant,
  StretchOfReadings,
} from './types.ts';
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

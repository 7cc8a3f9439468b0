export { type LoggerText, loggerText } from './text.ts';
export { type ThornwickRecording, thornwickRecordings } from './thornwick.ts';
export { plainTrial, simulateTrial, type Trial, type TrialSettings } from './trial.ts';

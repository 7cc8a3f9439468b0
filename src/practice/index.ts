export { type LoggerText, loggerText } from './text.ts';
export { plainTrial, simulateTrial, type Trial, type TrialSettings } from './trial.ts';

export { plainTrial, simulateTrial, type Trial, type TrialSettings } from './trial.ts';

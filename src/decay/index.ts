export type {
  Ambient,
  ArmaNoise,
  BudgetLine,
  ClassroomValue,
  Estimate,
  EstimateMethod,
  Segments,
  Verdict,
} from './types.ts';

import { type Counting, conditionKey } from './recording.ts';

/** The robust mean of a recording's condition, s; its own value where the condition is not known. */
export function centresBy(
  conditions: readonly { readonly body: string; readonly flow: string; readonly location: number }[],
): (recording: Counting) => number {
  const centres = new Map(conditions.map((one) => [conditionKey(one), one.location]));
  return (recording) => centres.get(conditionKey(recording)) ?? recording.timeConstant.value;
}

import { PredictionInputError, predictTimeConstant } from '../prediction/index.ts';
import type { Remark, RemarkCode } from '../remark/index.ts';
import { type ExperimentRemark, placed } from './check-remark.ts';
import { type Condition, conditionName, conditionsOf } from './conditions.ts';
import { type Missing, predictionFor } from './prediction-input.ts';
import type { Experiment } from './schema-keys.ts';

/** What predicting every condition, without uncertainties, brings to light; alike remarks are put together. */
export function checkConditions(experiment: Experiment): ExperimentRemark[] {
  const missing = new Map<string, Missing>();
  const remarks = new Map<string, ExperimentRemark>();
  for (const condition of conditionsOf(experiment).measured) {
    const asked = predictionFor(experiment, condition);
    if (!asked.ok) {
      for (const one of asked.missing) missing.set(one.place.join(' '), one);
      continue;
    }
    const found = remarksOn(() => predictTimeConstant(asked.input).remarks);
    if (found instanceof PredictionInputError) {
      gather(remarks, impossible(found), fieldPlace(found.field, condition), condition);
      continue;
    }
    for (const remark of found) {
      // The speed is looked at once for each flow.
      if (remark.code === 'speed-implausible') continue;
      gather(remarks, remark, placeOf(remark.code, condition), condition);
    }
  }
  return [...incomplete([...missing.values()]), ...remarks.values()];
}

function remarksOn(predict: () => readonly Remark[]): readonly Remark[] | PredictionInputError {
  try {
    return predict();
  } catch (error) {
    if (error instanceof PredictionInputError) return error;
    throw error;
  }
}

function impossible(error: PredictionInputError): Remark {
  return {
    code: 'condition-impossible',
    severity: 'caution',
    message: `No prediction can be made: ${error.message} (in SI, temperatures in K).`,
    action: 'Check this value and its unit.',
  };
}

/** Where in the file a field of the prediction comes from. */
function fieldPlace(field: string, { body, flow }: Condition): readonly string[] {
  if (field.startsWith('cooling.start')) return ['protocol', 'target'];
  if (field.startsWith('cooling')) return ['protocol', 'window'];
  if (field.startsWith('room')) return ['room'];
  if (field.startsWith('flow.meter.reading')) return ['flows', flow];
  if (field.startsWith('flow.meter')) return ['meter'];
  if (field.startsWith('flow.nozzle')) return ['nozzle'];
  if (field.startsWith('flow')) return ['supply'];
  if (field.startsWith('correlation')) return ['prediction'];
  return ['bodies', body];
}

function gather(
  remarks: Map<string, ExperimentRemark>,
  found: Remark,
  place: readonly string[],
  condition: Condition,
): void {
  const key = [found.code, ...place].join(' ');
  const before = remarks.get(key);
  const heavier = before === undefined || (before.severity === 'note' && found.severity !== 'note');
  const conditions = [...(before?.conditions ?? []), conditionName(condition)];
  remarks.set(key, { ...(heavier ? found : before), place, conditions });
}

/** Where in the file the mend would be made. */
function placeOf(code: RemarkCode, { body, flow }: Condition): readonly string[] {
  switch (code) {
    case 'jet-narrow':
      return ['bodies', body, 'diameter'];
    case 'mass-disagrees':
      return ['bodies', body, 'mass'];
    case 'biot-not-small':
    case 'source-unconfirmed':
      return ['bodies', body, 'material'];
    case 'jet-decayed':
      return ['nozzle', 'stand-off'];
    case 'meter-conditions':
      return ['meter', 'line'];
    case 'stem-large':
      return ['sensor', 'wires'];
    case 'viscosity-ratio-outside':
    case 'coefficient-varies':
      return ['protocol'];
    case 'jet-fast':
    case 'convection-mixed':
      return ['flows', flow];
    default:
      return ['bodies', body];
  }
}

/** Most places that one sentence lists. */
const mostListed = 6;

function incomplete(missing: readonly Missing[]): ExperimentRemark[] {
  const [first] = missing;
  if (first === undefined) return [];
  const listed = missing
    .slice(0, mostListed)
    .map(({ place, message }) => `under ${place.join(' › ')}, ${message}`)
    .join('; ');
  const more = missing.length > mostListed ? `; and ${missing.length - mostListed} more` : '';
  return [
    placed(
      'rig-incomplete',
      'note',
      first.place,
      `For a prediction of every condition, ${missing.length === 1 ? 'one thing is' : `${missing.length} things are`} missing.`,
      `Where you want a prediction: ${listed}${more}.`,
    ),
  ];
}

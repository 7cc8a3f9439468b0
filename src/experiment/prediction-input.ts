import {
  type Body,
  type CorrelationAccuracy,
  emissivities,
  type Flow,
  type PredictionInput,
  type PredictionUncertainties,
} from '../prediction/index.ts';
import type { Condition } from './conditions.ts';
import { entryOf } from './entry.ts';
import type { FlowSetting } from './flow-reading.ts';
import { meterOf, meterUncertainties } from './meter-input.ts';
import type { Experiment } from './schema-keys.ts';
import { surfaceCode } from './schema-rig.ts';
import type { UncertainQuantity } from './written.ts';

/** What an experiment file gives for a prediction, or what it still lacks. */
export type ConditionPrediction =
  | {
      readonly ok: true;
      readonly input: PredictionInput;
      /** Those that the file states; the prediction has its own for the others. */
      readonly uncertainties: PredictionUncertainties;
      readonly correlationAccuracy: CorrelationAccuracy;
    }
  | { readonly ok: false; readonly missing: readonly Missing[] };

/** Something that the file does not say. */
export interface Missing {
  /** Where it belongs, by its keys. */
  readonly place: readonly string[];
  /** What to write there, as `write room: with pressure and temperature`. */
  readonly message: string;
}

/** 0 °C, K. */
const freezing = 273.15;

/**
 * Emissivity of a body of which the file says nothing: bare metal that is handled and heated, between polished and
 * oxidised, whose handbook values run from 0.03 to 0.5 (common practice).
 */
export const usualEmissivity = { value: 0.2, standardUncertainty: 0.1 } as const;

/**
 * The prediction that a condition asks for, from the experiment file.
 *
 * Uncertainties: what stands behind `+-`, and for the meter its limits of error over √3 (JCGM 100:2008, 4.3.7).
 * Everything else keeps the typical uncertainty of the prediction.
 *
 * @param experiment as read from its file
 * @param condition codes of body and flow
 */
export function predictionFor(experiment: Experiment, condition: Condition): ConditionPrediction {
  const missing = missingFor(experiment, condition);
  const body = entryOf(experiment.bodies, condition.body);
  const setting = entryOf(experiment.flows, condition.flow);
  const { room, protocol, prediction } = experiment;
  const target = body?.target ?? protocol.target;
  if (body === undefined || setting === undefined || room === undefined || target === undefined) {
    return { ok: false, missing };
  }
  const described = describedBody(experiment, body);
  const flow = flowOf(experiment, setting);
  if (missing.length > 0 || described === null || flow === null) return { ok: false, missing };
  const wire = body.shape === 'wire';
  return {
    ok: true,
    input: {
      room: {
        pressure: room.pressure.value,
        temperature: room.temperature.value + freezing,
        relativeHumidity: room.humidity.value,
      },
      flow,
      body: described,
      cooling: { start: target + freezing, window: protocol.window },
      correlation: (wire ? prediction.wire : prediction.sphere) ?? null,
    },
    uncertainties: stated({
      ...bodyUncertainties(body),
      ...flowUncertainties(experiment, setting),
      roomPressure: room.pressure.standardUncertainty,
      roomTemperature: room.temperature.standardUncertainty,
    }),
    correlationAccuracy: {
      relative: prediction.accuracy,
      coverageFactor: prediction['coverage-factor'],
    },
  };
}

type BodyEntry = Experiment['bodies'][string];

/** What a prediction of this condition would still need. */
function missingFor(experiment: Experiment, condition: Condition): Missing[] {
  const missing: Missing[] = [];
  const need = (given: unknown, place: readonly string[], message: string) => {
    if (given === undefined) missing.push({ place, message });
  };
  const body = entryOf(experiment.bodies, condition.body);
  const flow = entryOf(experiment.flows, condition.flow);
  const at = ['bodies', condition.body];
  need(body, at, `list the body ${condition.body}`);
  need(flow, ['flows', condition.flow], `list the flow ${condition.flow}`);
  if (body !== undefined) {
    need(body.diameter, [...at, 'diameter'], 'write the diameter, such as 12.00 mm +- 0.02 mm');
    need(body.material, [...at, 'material'], 'write the material, such as brass');
    const target = body.target ?? experiment.protocol.target;
    need(
      target,
      ['protocol', 'target'],
      'write the temperature that the heating should reach, such as 95 degC',
    );
  }
  need(experiment.room, ['room'], 'write pressure and temperature of the room');
  if (flow !== undefined && flow.kind !== 'still') {
    need(experiment.supply, ['supply'], 'write the temperature of the moving air at the body');
  }
  if (flow?.kind === 'metered') {
    need(experiment.meter, ['meter'], 'write the kind of the flow meter and what its scale is made for');
    need(experiment.nozzle, ['nozzle'], 'write diameter and stand-off of the nozzle');
  }
  return missing;
}

function describedBody({ sensor }: Experiment, entry: BodyEntry): Body | null {
  const { diameter, material } = entry;
  if (diameter === undefined || material === undefined) return null;
  return {
    shape: entry.shape === 'wire' ? 'wire' : 'sphere',
    diameter: diameter.value,
    material: material.material,
    mass: entry.mass?.value ?? null,
    emissivity: emissivityOf(entry).value,
    wires: sensor.wires.flatMap((wire) => {
      const one = {
        diameter: wire.diameter.value,
        material: wire.material.material,
        length: wire.length ?? null,
      };
      return Array.from({ length: wire.number }, () => one);
    }),
  };
}

/** Value and standard uncertainty of the emissivity; null where the prediction's own uncertainty holds. */
function emissivityOf({ emissivity, surface }: BodyEntry): UncertainQuantity {
  if (emissivity !== undefined) return emissivity;
  const listed = emissivities.find((one) => surface !== undefined && surfaceCode(one.surface) === surface);
  if (listed === undefined) return usualEmissivity;
  // The prediction's typical uncertainty is wider than any range in the table.
  return { value: (listed.low + listed.high) / 2, standardUncertainty: null };
}

function flowOf(experiment: Experiment, setting: FlowSetting): Flow | null {
  const { supply, nozzle } = experiment;
  if (setting.kind === 'still') return { kind: 'still' };
  if (supply === undefined) return null;
  const air = {
    temperature: supply.temperature.value + freezing,
    relativeHumidity: supply.humidity.value,
  };
  if (setting.kind === 'speed') return { kind: 'speed', speed: setting.speed.value, ...air };
  const meter = meterOf(experiment, setting.reading.value);
  if (meter === null || nozzle === undefined) return null;
  return {
    kind: 'jet',
    ...air,
    meter,
    nozzle: {
      diameter: nozzle.diameter.value,
      standOff: nozzle['stand-off'].value,
      profileFactor: nozzle.profile.value,
      decayConstant: nozzle.decay.value,
    },
  };
}

type Stated = Partial<Record<keyof PredictionUncertainties, number | null>>;

function bodyUncertainties(body: BodyEntry): Stated {
  return {
    diameter: body.diameter?.standardUncertainty ?? null,
    mass: body.mass?.standardUncertainty ?? null,
    density: body.material?.density ?? null,
    specificHeat: body.material?.specificHeat ?? null,
    conductivity: body.material?.conductivity ?? null,
    emissivity: emissivityOf(body).standardUncertainty,
  };
}

function flowUncertainties(experiment: Experiment, setting: FlowSetting): Stated {
  const { supply, nozzle, room } = experiment;
  if (setting.kind === 'still') return { relativeHumidity: room?.humidity.standardUncertainty ?? null };
  const air: Stated = {
    airTemperature: supply?.temperature.standardUncertainty ?? null,
    relativeHumidity: supply?.humidity.standardUncertainty ?? null,
  };
  if (setting.kind === 'speed') return { ...air, speed: setting.speed.standardUncertainty };
  return {
    ...air,
    ...meterUncertainties(experiment, setting.reading),
    nozzleDiameter: nozzle?.diameter.standardUncertainty ?? null,
    standOff: nozzle?.['stand-off'].standardUncertainty ?? null,
    profileFactor: nozzle?.profile.standardUncertainty ?? null,
    decayConstant: nozzle?.decay.standardUncertainty ?? null,
  };
}

/** Only what is stated. */
function stated(all: Stated): PredictionUncertainties {
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== null));
}

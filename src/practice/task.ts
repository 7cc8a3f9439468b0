import { type Condition, conditionName, type Experiment, entryOf } from '../experiment/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import type { PracticeRecording } from './set-types.ts';

/**
 * The one-page task that goes with a group's practice recordings, as Markdown. It holds what is written at the bench,
 * and nothing of how the recordings were made.
 *
 * @param experiment that the recordings are of
 * @param group code of the group
 * @param recordings of that group
 */
export function practiceTask(
  experiment: Experiment,
  group: string,
  recordings: readonly PracticeRecording[],
): string {
  const { protocol } = experiment;
  const conditions = [
    ...new Map(recordings.map((one) => [conditionName(one.condition), one.condition])).values(),
  ];
  const [from, to] = [protocol.window.from, protocol.window.to].map(String);
  return `${[
    `# Time constants from recordings, group ${group}`,
    '',
    ...(experiment.course === undefined ? [] : [plain(experiment.course), '']),
    `In this folder are ${recordings.length} recordings of a temperature sensor as a logger wrote them. In each, the sensor`,
    'stands at ambient, is heated with hot air, and then cools in the flow that the table names. The recordings',
    'belong to this group alone. Some of them may be faulty.',
    '',
    '## What to do',
    '',
    '1. Look at each recording before you calculate: baseline, heating, peak, cooling. Say which ones you would',
    '   repeat at the bench, and by what you saw it.',
    `2. Find the time constant of each recording that can be used, from error fractions between ${from} and ${to}.`,
    '3. State each with an uncertainty, and say what it is made of. Put repeats together.',
    '4. Predict the time constant of each condition from the tables below, with an uncertainty.',
    '5. Compare the two: do they agree, disagree, or is the comparison too weak to tell?',
    '',
    '## What to hand in',
    '',
    'One line for each condition, times in s and heat transfer coefficients in W/(m² K):',
    '',
    '| condition | recordings used | time constant ± uncertainty | predicted ± uncertainty | verdict |',
    '|---|---|---|---|---|',
    '',
    'One line for each recording that you did not use, with the reason. One page of working for one recording.',
    '',
    '## Recordings',
    '',
    ...fileTable(recordings),
    '',
    '## Bodies and flows',
    '',
    ...bodyTable(experiment, conditions),
    '',
    ...flowLines(experiment, conditions),
    ...sensorLines(experiment),
    '',
    'These are recordings to calculate with. At the bench, hot air, hot bodies and compressed air need the care',
    'that your instructor tells you of.',
  ].join('\n')}\n`;
}

/** One row a condition, so that the task stays on its page. */
function fileTable(recordings: readonly PracticeRecording[]): string[] {
  const names = [...new Set(recordings.map(({ condition }) => conditionName(condition)))];
  return [
    '| body | flow | files |',
    '|---|---|---|',
    ...names.map((name) => {
      const own = recordings.filter(({ condition }) => conditionName(condition) === name);
      const { body, flow } = own[0]?.condition ?? { body: '', flow: '' };
      const files = own.map(({ path, group }) => {
        return path.startsWith(`${group.code}/`) ? path.slice(group.code.length + 1) : path;
      });
      const shown = files.length > 2 ? `${files[0]} to ${files.at(-1)}` : files.join(', ');
      return `| ${body} | ${flow} | ${shown} |`;
    }),
  ];
}

function bodyTable(experiment: Experiment, conditions: readonly Condition[]): string[] {
  const codes = [...new Set(conditions.map(({ body }) => body))];
  return [
    '| body | shape | diameter | material | mass |',
    '|---|---|---|---|---|',
    ...codes.map((code) => {
      const body = entryOf(experiment.bodies, code);
      const diameter = body?.diameter === undefined ? '' : `${figures(1000 * body.diameter.value)} mm`;
      const mass = body?.mass === undefined ? '' : `${figures(1000 * body.mass.value)} g`;
      const material = plain(body?.material?.material.name ?? '');
      return `| ${code} | ${body?.shape ?? ''} | ${diameter} | ${material} | ${mass} |`;
    }),
  ];
}

function flowLines(experiment: Experiment, conditions: readonly Condition[]): string[] {
  const codes = [...new Set(conditions.map(({ flow }) => flow))];
  const flows = codes.map((code) => `${code}: ${plain(entryOf(experiment.flows, code)?.written ?? '')}`);
  const { room, supply, nozzle, meter } = experiment;
  const air = [
    ...(room === undefined
      ? []
      : [`room at ${figures(room.pressure.value / 1000)} kPa, near ${figures(room.temperature.value)} °C`]),
    ...(supply === undefined ? [] : [`air of the jet near ${figures(supply.temperature.value)} °C`]),
    ...(nozzle === undefined
      ? []
      : [
          `nozzle of ${figures(1000 * nozzle.diameter.value)} mm, ${figures(1000 * nozzle['stand-off'].value)} mm before the body`,
        ]),
    ...(meter === undefined ? [] : [`flow meter: ${meterWords(meter)}`]),
  ];
  return [`Flows: ${flows.join('; ')}.`, ...(air.length > 0 ? [`Rig: ${air.join('; ')}.`] : [])];
}

function meterWords(meter: NonNullable<Experiment['meter']>): string {
  const words = [meter.kind.replace('-', ' ')];
  if ('reference' in meter) {
    const { pressure, temperature } = meter.reference;
    words.push(`scale made for ${figures(pressure.value / 1000)} kPa and ${figures(temperature)} °C`);
  }
  if (meter.line !== undefined) {
    const { pressure } = meter.line.pressure;
    const [value, kind] =
      'gaugePressure' in pressure
        ? [pressure.gaugePressure, 'gauge']
        : [pressure.absolutePressure, 'absolute'];
    words.push(
      `air inside at ${figures(value / 1000)} kPa ${kind} and ${figures(meter.line.temperature.value)} °C`,
    );
  }
  return words.join(', ');
}

function sensorLines({ sensor, logger }: Experiment): string[] {
  const parts = [
    ...(sensor.thermocouple === undefined ? [] : [`thermocouple of type ${sensor.thermocouple}`]),
    ...(sensor.resistance === undefined ? [] : [sensor.resistance]),
    ...(sensor.junction === undefined ? [] : [`reference junction: ${plain(sensor.junction)}`]),
    ...(sensor.gain === undefined ? [] : [`amplifier with a gain of ${figures(sensor.gain)}`]),
    ...(sensor.zero === undefined
      ? []
      : [`zero with the input shorted: ${figures(1000 * sensor.zero.value)} mV at the logger`]),
    ...(sensor.wires.length === 0
      ? []
      : [
          `wires: ${sensor.wires.map(({ number, material, diameter }) => `${number > 1 ? `${number} of ` : ''}${plain(material.material.name)}, ${figures(1000 * diameter.value)} mm`).join(' and ')}`,
        ]),
    ...(logger?.range === undefined
      ? []
      : [`range of the logger ${figures(logger.range.from)} to ${figures(logger.range.to)} V`]),
  ];
  return parts.length === 0 ? [] : [`Sensor: ${parts.join('; ')}. The files say in which unit they are.`];
}

function figures(value: number): string {
  return formatSignificant(value, 6)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '');
}

/** Words of the experiment file must not become marks of the page. */
function plain(text: string): string {
  return text.replace(/[\r\n]+/g, ' ').replace(/[\\`*_{}[\]<>#|!]/g, '\\$&');
}

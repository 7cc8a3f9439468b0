import { thermocoupleEmf } from '../sensing/index.ts';
import { type ExperimentRemark, placed, shown } from './check-remark.ts';
import type { Experiment } from './schema-keys.ts';

/** What is unusual about protocol, heating and logger. */
export function checkTrial(experiment: Experiment): ExperimentRemark[] {
  return [
    ...windowRemarks(experiment),
    ...limitRemarks(experiment),
    ...streamRemarks(experiment),
    ...repeatRemarks(experiment),
    ...loggerRemarks(experiment),
    ...patternRemarks(experiment),
  ];
}

function windowRemarks({ protocol }: Experiment): ExperimentRemark[] {
  const { window } = protocol;
  const end = protocol['end-fraction'];
  if (window.to >= end) return [];
  return [
    placed(
      'window-beyond-end',
      'caution',
      ['protocol', 'end-fraction'],
      `The classroom fits want the cooling down to an error fraction of ${window.to}, but it may stop at ${end}.`,
      `Lower end-fraction to ${window.to}, or end the window at ${end}.`,
    ),
  ];
}

function limitRemarks({ protocol, bodies }: Experiment): ExperimentRemark[] {
  const over: ExperimentRemark[] = [];
  const remark = (place: readonly string[], who: string, target: number, limit: number) => {
    if (target <= limit) return;
    over.push(
      placed(
        'target-over-limit',
        'caution',
        place,
        `${who} shall be heated to ${shown(target)} °C, above its limit of ${shown(limit)} °C.`,
        'Lower the target, or use an adhesive that bears it.',
      ),
    );
  };
  const { target, limit } = protocol;
  if (target !== undefined && limit !== undefined)
    remark(['protocol', 'target'], 'Every body', target, limit);
  for (const [code, body] of Object.entries(bodies)) {
    const own = body.target ?? target;
    if (own === undefined) continue;
    const place = ['bodies', code, body.target === undefined ? 'limit' : 'target'];
    if (body.limit !== undefined) remark(place, code, own, body.limit);
    else if (body.target !== undefined && limit !== undefined) remark(place, code, own, limit);
  }
  return over;
}

function streamRemarks({ heating, protocol, bodies }: Experiment): ExperimentRemark[] {
  const targets = [protocol.target, ...Object.values(bodies).map(({ target }) => target)];
  const highest = Math.max(...targets.filter((target) => target !== undefined), Number.NEGATIVE_INFINITY);
  if (heating.stream === undefined || heating.stream > highest) return [];
  return [
    placed(
      'stream-cool',
      'caution',
      ['heating', 'stream'],
      `The hot air has ${shown(heating.stream)} °C where the body stands, but bodies shall reach ${shown(highest)} °C.`,
      'Use hotter air or a lower target.',
    ),
  ];
}

function repeatRemarks({ protocol }: Experiment): ExperimentRemark[] {
  if (protocol.repeats >= 3) return [];
  return [
    placed(
      'repeats-few',
      'note',
      ['protocol', 'repeats'],
      `Each condition is measured ${protocol.repeats === 1 ? 'once' : 'twice'}.`,
      'Three repeats show how well trials repeat; with fewer, take that from other sessions.',
    ),
  ];
}

function loggerRemarks({ sensor, logger, protocol }: Experiment): ExperimentRemark[] {
  const hottest = protocol.limit ?? protocol.target;
  const range = logger?.range;
  if (sensor.thermocouple === undefined || range === undefined || hottest === undefined) return [];
  const emf = thermocoupleEmf(sensor.thermocouple, hottest);
  const volts = (sensor.zero?.value ?? 0) + (sensor.gain ?? 1) * emf;
  if (!Number.isFinite(volts) || (volts >= range.from && volts <= range.to)) return [];
  return [
    placed(
      'logger-range-short',
      'caution',
      ['logger', 'range'],
      `At ${shown(hottest)} °C the logger would get ${shown(volts)} V, outside its range of ${shown(range.from)} V to ${shown(range.to)} V.`,
      'Choose a wider range or a smaller gain.',
    ),
  ];
}

/** Without a body and a flow, a recording belongs to no condition. */
function patternRemarks({ recordings, bodies, flows }: Experiment): ExperimentRemark[] {
  if (recordings === undefined) return [];
  const unnamed = [
    ...(Object.keys(bodies).length > 1 && !recordings.includes('{body}') ? ['{body}'] : []),
    ...(Object.keys(flows).length > 1 && !recordings.includes('{flow}') ? ['{flow}'] : []),
  ];
  if (unnamed.length === 0) return [];
  return [
    placed(
      'path-unclear',
      'note',
      ['recordings'],
      `The paths of recordings do not name ${unnamed.join(' and ')}, so nobody can tell from them which condition they are of.`,
      `Put ${unnamed.join(' and ')} into the pattern, or expect to be asked.`,
    ),
  ];
}

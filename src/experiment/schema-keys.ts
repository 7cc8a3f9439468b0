import { z } from 'zod';
import { byCode, codeList, codeReference } from './codes.ts';
import { flowSetting } from './flow-reading.ts';
import { marking } from './schema-marking.ts';
import {
  bodyTemperature,
  conditions,
  heating,
  limitTemperature,
  prediction,
  protocol,
  session,
  spans,
} from './schema-protocol.ts';
import { report } from './schema-report.ts';
import { emissivity, logger, material, meter, nozzle, room, sensor, supply, surface } from './schema-rig.ts';
import { earlierTerms, term } from './schema-terms.ts';
import { quantity, uncertain, words } from './written.ts';

const body = z.strictObject({
  name: words('As it shall be printed.').optional(),
  shape: z
    .enum(['sphere', 'bead', 'wire'], { error: 'must be sphere, bead or wire' })
    .describe('A solid sphere; or a bare junction, as a bead (a small sphere) or a wire across the flow.')
    .default('sphere'),
  diameter: uncertain('length', 'Diameter, the mean of several directions.', '12.00 mm +- 0.02 mm', {
    low: 1e-5,
    high: 0.5,
    words: 'a diameter from 0.01 mm to 0.5 m',
  }).optional(),
  material: material.optional(),
  mass: uncertain('mass', 'As weighed, without the wires.', '7.70 g +- 0.01 g', {
    low: 1e-12,
    high: 1000,
    words: 'a mass above 0 and up to 1000 kg',
  }).optional(),
  surface: surface.optional(),
  emissivity: emissivity.optional(),
  target: quantity(
    'temperature',
    'Temperature that its heating should reach, where it is not that of the protocol.',
    '95 degC',
    bodyTemperature,
  ).optional(),
  limit: quantity(
    'temperature',
    'Temperature that this body, or the adhesive in it, may not pass.',
    '140 degC',
    limitTemperature,
  ).optional(),
  heating: z
    .strictObject({
      time: quantity('time', 'How long it takes to heat, as it was seen.', '55 s', spans).optional(),
      'time-constant': quantity('time', 'Time constant in the hot stream.', '60 s', {
        low: 1e-3,
        high: 86_400,
        words: 'a time above 0',
      }).optional(),
    })
    .describe('How its heating goes, where that is known.')
    .optional(),
});

const group = z.strictObject({
  section: codeReference('Code of its section.').optional(),
  bench: codeReference('Code of its bench.').optional(),
  borrows: codeList(
    20,
    'Codes of groups whose recordings it may use, as after a session that failed.',
  ).optional(),
});

/** What stands in an `experiment.yaml`, each key by itself. */
export const experimentKeys = z.strictObject(
  {
    format: z.literal(1, { error: 'must be 1' }).describe('Of this file; leave it as it is.').default(1),
    course: words('What the course is called.').optional(),
    term: term.optional(),
    'earlier-terms': earlierTerms.default([]),
    mains: quantity('frequency', 'Mains frequency, 50 Hz or 60 Hz.', '50 Hz')
      .refine((f) => f === 50 || f === 60, { error: 'must be 50 Hz or 60 Hz' })
      .prefault('50 Hz'),
    room: room.describe('The air of the room.').optional(),
    supply: supply.describe('The air that the jet is made of.').optional(),
    meter: meter.describe('The flow meter.').optional(),
    nozzle: nozzle.describe('Where the jet leaves.').optional(),
    sensor: sensor.describe('From the junction to the logger.').prefault({}),
    logger: logger.describe('What the logger does.').optional(),
    bodies: byCode(body, 100).describe('The bodies, by code.').default({}),
    flows: byCode(flowSetting('As set on the meter, a measured speed, or still.'), 50)
      .describe('The flows, by code.')
      .default({}),
    conditions: conditions.describe('All of body and flow, but for those left out.').prefault({}),
    protocol: protocol.describe('How a trial is done and judged.').prefault({}),
    prediction: prediction.describe('How far theory is trusted.').prefault({}),
    session: session.describe('The time that a session has.').prefault({}),
    heating: heating.describe('What the bodies are heated with.').prefault({}),
    report: report.describe('How documents are set.').prefault({}),
    marking: marking.describe('What groups hand in, and how it is marked.').prefault({}),
    sections: codeList(100, 'Codes of the sections of the course.').default([]),
    benches: codeList(100, 'Codes of the benches.').default([]),
    groups: byCode(
      group.nullable().transform((given) => given ?? {}),
      500,
    )
      .describe('The groups by code; names stay out of this file.')
      .default({}),
    recordings: words(
      'How the path of a recording, from this folder, names section, group, bench, body, flow and repeat, as recordings/{section}/{bench}/{body}_{flow}-{repeat}. Without an ending it takes any.',
    ).optional(),
  },
  { error: 'an experiment file is a list of keys such as sensor, protocol and bodies' },
);

/** An experiment as the commands see it: SI, temperatures in °C. */
export type Experiment = z.output<typeof experimentKeys>;

/** What can be changed in the plan, as a list made from the file. */
import type { Document } from 'yaml';
import { surfaceCode } from '../../../src/experiment/index.ts';
import { emissivities, materials } from '../../../src/prediction/index.ts';
import { isBranch, keyOf, keysAt, type PlaceKey, writingAt } from './edits.ts';

export interface Field {
  readonly key: PlaceKey;
  readonly place: readonly string[];
  readonly label: string;
  /** As it stands in the file; empty where it is not said there. */
  readonly writing: string;
  /** How such a value is written, for those that are not said. */
  readonly example: string;
  /** What there is to choose from; null where anything may be typed. */
  readonly choices: readonly string[] | null;
}

export interface FieldGroup {
  readonly heading: string;
  readonly fields: readonly Field[];
}

/** Label, keys below the heading's place, example. */
type Line = readonly [label: string, place: readonly string[], example: string, choices?: readonly string[]];

const bodyLines: readonly Line[] = [
  ['diameter', ['diameter'], '12.00 mm +- 0.02 mm'],
  ['material', ['material'], 'brass', materials.map(({ id }) => id)],
  ['surface', ['surface'], 'brass-dull', emissivities.map(({ surface }) => surfaceCode(surface))],
  ['mass', ['mass'], '7.70 g +- 0.01 g'],
];

const sessionLines: readonly Line[] = [
  ['length of the session', ['session', 'length'], '110 min'],
  ['set-up', ['session', 'set-up'], '15 min'],
  ['change-over', ['session', 'change-over'], '2 min'],
  ['zeroing', ['session', 'zeroing'], '2 min'],
  ['reserve', ['session', 'reserve'], '10 min'],
  ['start, time of day', ['session', 'start'], '"14:00"'],
];

const trialLines: readonly Line[] = [
  ['repeats', ['protocol', 'repeats'], '3'],
  ['end fraction', ['protocol', 'end-fraction'], '0.1'],
  ['baseline', ['protocol', 'baseline'], '15 s'],
  ['heat up to', ['protocol', 'target'], '95 degC'],
  ['hot air', ['heating', 'stream'], '180 degC'],
  ['ambient offset', ['protocol', 'ambient-offset'], '0.3 K'],
];

const airLines: readonly Line[] = [
  ['temperature of the jet', ['supply', 'temperature'], '20.5 degC +- 1 K'],
  ['temperature of the room', ['room', 'temperature'], '21 degC +- 0.5 K'],
  ['pressure of the room', ['room', 'pressure'], '100.8 kPa +- 0.2 kPa'],
  ['pressure in the meter', ['meter', 'line', 'pressure'], '2.0 bar(g) +- 0.1 bar'],
  ['bore of the nozzle', ['nozzle', 'diameter'], '16 mm +- 0.1 mm'],
  ['stand-off', ['nozzle', 'stand-off'], '12 mm +- 2 mm'],
];

const theoryLines: readonly Line[] = [
  ['accuracy of the correlation', ['prediction', 'accuracy'], '30 %'],
  ['readings a second', ['logger', 'rate'], '100 Hz'],
];

/** Most bodies and flows that get fields of their own. */
const most = 40;

/**
 * The fields of an experiment file. A value that has keys of its own, such as a material of one's own, is left to an
 * editor.
 */
export function fieldGroups(tree: Document.Parsed): readonly FieldGroup[] {
  const field = ([label, place, example, choices]: Line): Field[] => {
    if (isBranch(tree, place)) return [];
    const writing = writingAt(tree, place) ?? '';
    const offered = choices === undefined || (writing !== '' && !choices.includes(writing)) ? null : choices;
    return [{ key: keyOf(place), place, label, writing, example, choices: offered }];
  };
  const bodies = keysAt(tree, ['bodies']).slice(0, most);
  const flows = keysAt(tree, ['flows']).slice(0, most);
  const groups: FieldGroup[] = [
    { heading: 'Session', fields: sessionLines.flatMap(field) },
    { heading: 'Trial', fields: trialLines.flatMap(field) },
    {
      heading: 'Flows',
      fields: flows.flatMap((code) => field([code, ['flows', code], '120 L/min'])),
    },
    { heading: 'Air and nozzle', fields: airLines.flatMap(field) },
    ...bodies.map((code): FieldGroup => {
      const lines = bodyLines.map(([label, place, example, choices]): Line => {
        const whole = ['bodies', code, ...place];
        return choices === undefined ? [label, whole, example] : [label, whole, example, choices];
      });
      return { heading: code, fields: lines.flatMap(field) };
    }),
    { heading: 'Theory and logger', fields: theoryLines.flatMap(field) },
  ];
  return groups.filter(({ fields }) => fields.length > 0);
}

/** Whether a fault belongs to a field: at its place, or at a key within it. */
export function isFaultOf(fault: { readonly place: string }, place: readonly string[]): boolean {
  const own = place.join(' › ');
  return fault.place === own || fault.place.startsWith(`${own} › `);
}

import { conditionName, conditionsOf, type ExperimentRemark } from '../experiment/index.ts';
import type { ReadExperiment } from '../store/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/** A remark with its line in the file. */
export type LinedRemark = ExperimentRemark & { readonly line: number };

/** What `check` found, for a person: lines of at most 80 columns but for paths. */
export function presentCheck(file: ReadExperiment, remarks: readonly LinedRemark[], ink: Ink): string[] {
  const unusual = remarks.filter(({ severity }) => severity !== 'note').length;
  const verdict =
    unusual === 0
      ? ink.strong('fits')
      : `${ink.strong('fits')}, ${ink.warm(`${unusual} ${unusual === 1 ? 'thing' : 'things'} to look at`)}`;
  return [
    `${printable(file.path)}  ${verdict}`,
    ...conditionLines(file),
    ...(remarks.length === 0 ? [] : ['']),
    ...remarks.flatMap((remark) => remarkLines(remark, ink)),
    '',
  ];
}

function conditionLines({ experiment }: ReadExperiment): string[] {
  const { measured, leftOut } = conditionsOf(experiment);
  const { repeats } = experiment.protocol;
  const bodies = Object.keys(experiment.bodies).length;
  const flows = Object.keys(experiment.flows).length;
  const text = `${counted(bodies, 'body', 'bodies')}, ${counted(flows, 'flow', 'flows')}: ${counted(measured.length, 'condition', 'conditions')}, ${counted(repeats, 'repeat', 'repeats')} each, ${counted(measured.length * repeats, 'trial', 'trials')}`;
  return [
    ...entry('plan', text),
    ...leftOut
      .slice(0, 20)
      .flatMap((one, i) => entry(i === 0 ? 'left out' : '', `${conditionName(one)}: ${printable(one.why)}`)),
  ];
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** Most conditions that one remark lists. */
const mostNamed = 4;

function remarkLines({ severity, code, line, place, conditions, message, action }: LinedRemark, ink: Ink) {
  const more = conditions.length > mostNamed ? ` and ${conditions.length - mostNamed} more` : '';
  const named = conditions.length === 0 ? '' : ` (${conditions.slice(0, mostNamed).join(', ')}${more})`;
  const text = `line ${line}, ${place.join(' › ')}${named}: ${printable(message)} ${printable(action)} [${code}]`;
  const [first = '', ...rest] = entry(severity, text);
  return [severity === 'note' ? first : first.replace(severity, ink.warm(severity)), ...rest];
}

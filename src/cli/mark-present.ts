import type { HandedInFolder, MarkedGroup, MarkedRow } from '../analysis/index.ts';
import type { AssessedValue } from '../class/index.ts';
import { quantityWords } from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { aboutWords, missingTogether, type SheetFault, signedPercent, valueWords } from '../marking/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/** Column in which the words of a group begin. */
const margin = 14;

/**
 * What groups handed in, at a terminal of 80 columns.
 *
 * @param others groups that have handed nothing in
 */
export function presentMarked(
  path: string,
  groups: readonly MarkedGroup[],
  { unusable, faults }: Pick<HandedInFolder, 'unusable' | 'faults'>,
  others: readonly string[],
  ink: Ink,
): string[] {
  const absent = others.length === 0 ? '' : `; nothing yet from ${others.join(', ')}`;
  const handed = groups.length === 1 ? '1 group has' : `${groups.length} groups have`;
  return [
    ink.strong(printable(path)),
    ...entry('', printable(`${handed} handed in values${absent}`), 2),
    '',
    ...groups.flatMap((group) => [...groupLines(group, ink), '']),
    ...unusable.flatMap((file) => [
      ...entry('no rows', printable(file.path), margin),
      ...file.faults.slice(0, 5).flatMap((fault) => entry('', faultWords(fault), margin)),
      '',
    ]),
    ...faults.flatMap((fault) => entry('left out', printable(fault), margin)),
    ...(faults.length === 0 ? [] : ['']),
  ];
}

function groupLines(group: MarkedGroup, ink: Ink): string[] {
  const { marked, missing, faults } = group;
  const [first = '', ...rest] = entry(printable(group.group), summaryOf(marked), margin);
  return [
    ink.strong(first),
    ...rest,
    ...marked.flatMap((row) => lookAgain(row, ink)),
    ...marked.flatMap(({ placed, trouble }) => {
      return trouble === null ? [] : entry('not held', printable(`${short(placed)}: ${trouble}`), margin);
    }),
    ...rosterLines(marked),
    ...(missing.length === 0 ? [] : entry('missing', printable(missingWords(group)), margin)),
    ...faults.slice(0, 5).flatMap((fault) => entry('sheet', faultWords(fault), margin)),
    ...(faults.length > 5 ? entry('', `and ${faults.length - 5} more`, margin) : []),
  ];
}

function summaryOf(marked: readonly MarkedRow[]): string {
  const values = marked.flatMap(({ assessment }) => assessment.values);
  const count = (state: AssessedValue['state']) => values.filter((one) => one.state === state).length;
  const part = (state: AssessedValue['state'], words: string) =>
    count(state) === 0 ? [] : [`${count(state)} ${words}`];
  const parts = [
    ...part('within', 'within'),
    ...part('follows', 'right given an earlier value'),
    ...part('outside', 'to look at again'),
    ...part('cannot-tell', 'that cannot be held against anything'),
  ];
  const rows = `${marked.length} ${marked.length === 1 ? 'row' : 'rows'}`;
  const handed = `${values.length} ${values.length === 1 ? 'value' : 'values'}`;
  return values.length === 0 ? `${rows}, no values` : `${rows}, ${handed}: ${parts.join(', ')}`;
}

/** What is outside in a row, and what gives it. */
function lookAgain({ placed, assessment }: MarkedRow, ink: Ink): string[] {
  const off = assessment.values.filter(({ state }) => state === 'outside');
  if (off.length === 0) return [];
  const values = off.map((value) => offWords(value, placed)).join('; ');
  const text = `${short(placed)}: ${values}. ${assessment.sentences.join(' ')}`;
  const [first = '', ...rest] = entry('look again', printable(text), margin);
  return [first.replace('look again', ink.warm('look again')), ...rest];
}

function offWords({ quantity, expected, percent }: AssessedValue, placed: MarkedRow['placed']): string {
  const written = placed.row.values.find((one) => one.quantity === quantity)?.written ?? '';
  const here = expected === null ? '' : `, here ${valueWords(quantity, expected)}`;
  const by = percent === null ? '' : ` (${signedPercent(percent)})`;
  return `${quantityWords[quantity]} ${written}${here}${by}`;
}

/** A recording by the last part of its path. */
function short(placed: MarkedRow['placed']): string {
  return shortName(aboutWords(placed));
}

function shortName(path: string): string {
  return (path.split('/').at(-1) ?? '').replace(/\.[A-Za-z0-9]{1,5}$/, '');
}

function rosterLines(marked: readonly MarkedRow[]): string[] {
  const said = new Set(marked.flatMap(({ placed }) => placed.flags.map(({ message }) => message)));
  const notes = new Set(marked.flatMap(({ placed }) => placed.row.note || []));
  return [
    ...[...said].flatMap((message) => entry('roster', printable(message), margin)),
    ...[...notes].slice(0, 5).flatMap((note) => entry('note', printable(note.slice(0, 300)), margin)),
  ];
}

function missingWords({ missing }: MarkedGroup): string {
  return missingTogether(missing)
    .map(({ about, quantities }) => {
      return `${about.map(shortName).join(', ')}: ${quantities.map((one) => quantityWords[one]).join(', ')}`;
    })
    .join('; ');
}

function faultWords({ line, column, message, action }: SheetFault): string {
  const place = [
    ...(line === null ? [] : [`line ${line}`]),
    ...(column === null ? [] : [`"${column}"`]),
  ].join(', ');
  return printable(`${place === '' ? '' : `${place}: `}${message} ${action}`);
}

/** Width of the names of values: the longest, and a gap. */
const valueWidth = 2 + Math.max(...Object.values(quantityWords).map((words) => words.length));

/** Every value of one group, one a line, with what it should be. */
export function presentValues(group: MarkedGroup, { marking }: Experiment, ink: Ink): string[] {
  const head = `    ${'value'.padEnd(valueWidth)}${'handed in'.padEnd(15)}${'here'.padEnd(15)}`;
  return group.marked
    .flatMap(({ placed, assessment }) => [
      `  ${ink.strong(printable(aboutWords(placed)))}`,
      ink.faint(head.trimEnd()),
      ...assessment.values.map((value) => {
        const { quantity, expected, percent, state } = value;
        const written = placed.row.values.find((one) => one.quantity === quantity)?.written ?? '';
        const here = expected === null ? '' : valueWords(quantity, expected);
        const words = { within: '', outside: 'look again', follows: 'follows', 'cannot-tell': 'cannot tell' };
        const by = percent === null ? '' : signedPercent(percent);
        const line = `    ${quantityWords[quantity].padEnd(valueWidth)}${printable(written).padEnd(15)}${here.padEnd(15)}`;
        const tail = [by, words[state]].filter((one) => one !== '').join(' ');
        return `${line}${state === 'outside' ? ink.warm(tail) : tail}`.trimEnd();
      }),
      ...assessment.sentences.flatMap((sentence) => entry('', printable(sentence), 4)),
      '',
    ])
    .concat(
      entry('', `Tolerances stand under marking in experiment.yaml; asked: ${marking.asked.join(', ')}.`, 2),
    );
}

import { formatWithUncertainty } from '../quantity/index.ts';
import {
  checkedThing,
  type ReferenceBook,
  type ReferenceRun,
  type RigBook,
  type RigCheck,
  type RigStanding,
  rigKind,
} from '../rig/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/** How the rigs stand, for a person: lines of at most 80 columns but for paths. */
export function presentRig(
  path: string,
  standings: readonly RigStanding[],
  runs: readonly ReferenceRun[],
  ink: Ink,
): string[] {
  const trouble = standings.filter(({ state }) => state === 'outside' || state === 'stale');
  const good = standings.filter(({ state }) => state === 'in-order');
  const missing = missingLines(standings);
  const verdict =
    trouble.length > 0
      ? ink.warm(`${trouble.length} ${trouble.length === 1 ? 'check' : 'checks'} to make again`)
      : ink.strong(good.length > 0 ? 'checked' : 'nothing is checked yet');
  return [
    `${printable(path)}  ${verdict}`,
    ...(trouble.length === 0 ? [] : ['']),
    ...trouble.flatMap((one) => troubleLines(one, ink)),
    ...(good.length === 0 ? [] : ['']),
    ...good.flatMap((one) => entry('in order', printable(one.message))),
    ...(missing.length === 0 ? [] : ['', ...missing]),
    ...latestRuns(runs),
    ...careLines(trouble),
    '',
  ];
}

function troubleLines({ state, message, mend, kind }: RigStanding, ink: Ink): string[] {
  const label = state === 'outside' ? 'outside' : 'too old';
  const text = printable(`${message} ${mend ?? rigKind(kind).how}`);
  const [first = '', ...rest] = entry(label, text);
  return [first.replace(label, ink.warm(label)), ...rest];
}

/** What was never checked, together for benches that lack the same. */
function missingLines(standings: readonly RigStanding[]): string[] {
  const benches = [...new Set(standings.map(({ bench }) => bench))];
  const lacking = new Map<string, string[]>();
  for (const bench of benches) {
    const things = standings
      .filter((one) => one.bench === bench && one.state === 'missing')
      .map(({ kind, subject }) => checkedThing(kind, subject))
      .join(', ');
    if (things === '') continue;
    lacking.set(things, [...(lacking.get(things) ?? []), ...(bench === null ? [] : [bench])]);
  }
  return [...lacking].flatMap(([things, of], i) => {
    const text = `${of.length === 0 ? '' : `${of.join(', ')}: `}${things}`;
    return entry(i === 0 ? 'not yet' : '', printable(text));
  });
}

/** What to take care of in what is to be done again. */
function careLines(trouble: readonly RigStanding[]): string[] {
  const care = [...new Set(trouble.map(({ kind }) => rigKind(kind).care))];
  if (care.length === 0) return [];
  return ['', ...entry('take care', `${care.join(' ')} Local rules come first.`)];
}

/** The latest reference run of each bench. */
function latestRuns(runs: readonly ReferenceRun[]): string[] {
  const latest = new Map<string | null, ReferenceRun>();
  for (const run of runs) {
    const before = latest.get(run.bench);
    if (before === undefined || Date.parse(run.at) >= Date.parse(before.at)) latest.set(run.bench, run);
  }
  const lines = [...latest.values()].flatMap((run, i) =>
    entry(i === 0 ? 'reference' : '', printable(`${run.at.slice(0, 10)}, ${runWords(run)}.`)),
  );
  return lines.length === 0 ? [] : ['', ...lines];
}

/** What a reference run was of and what it showed. */
function runWords({ bench, body, flow, timeConstant, interval, expected }: ReferenceRun): string {
  const place = bench === null ? '' : `${bench}, `;
  const found = `${formatWithUncertainty(timeConstant, (interval[1] - interval[0]) / 2).text} s`;
  const by = expected?.source === 'prediction' ? 'expected by theory' : 'before on this bench';
  const held = expected === null ? '' : `; ${Number(expected.value.toPrecision(3))} s ${by}`;
  return `${place}${body} in ${flow}: ${found}${held}`;
}

/** All checks and reference runs, the latest first. */
export function presentHistory(
  path: string,
  { checks, withdrawn }: RigBook,
  references: ReferenceBook,
  ink: Ink,
): string[] {
  const back = new Map([...withdrawn, ...references.withdrawn].map((one) => [one.id, one]));
  const kept = [
    ...checks.map((one) => ({ ...one, text: checkWords(one) })),
    ...references.runs.map((one) => ({ ...one, text: `${runWords(one)} (${one.term})` })),
  ];
  const lines = kept
    .toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at) || b.id.localeCompare(a.id))
    .flatMap(({ id, at, who, text, note }) => {
      const taken = back.get(id);
      const said = [
        `${at.slice(0, 16).replace('T', ' ')} UTC, ${text} (${who})`,
        ...(note === '' ? [] : [note]),
        ...(taken === undefined ? [] : [`Taken back by ${taken.who}: ${taken.why}`]),
      ].join('. ');
      const shown = entry(id, printable(said));
      return taken === undefined ? shown : shown.map(ink.faint);
    });
  const none = entry('', 'Nobody has checked anything yet.');
  return [printable(path), '', ...(lines.length === 0 ? none : lines), ''];
}

function checkWords({ bench, kind, subject, written }: RigCheck): string {
  return `${bench === null ? '' : `${bench}, `}${checkedThing(kind, subject)}: ${written}`;
}

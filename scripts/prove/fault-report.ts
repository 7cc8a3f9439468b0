import { type FaultOutcome, type FaultTried, isNamed } from './fault-outcome.ts';
import { type Rate, rateOf } from './rates.ts';
import { percent, percentWithin, table } from './tables.ts';
import { type TargetRow, verdictOn } from './targets.ts';

const wanted = { low: 0.95, high: 1 } as const;

/** How often a fault was named, of the recordings that have it. */
function namedRate({ fault, outcomes }: FaultTried): Rate {
  return rateOf(outcomes.filter((outcome) => isNamed(fault, outcome)).length, outcomes.length);
}

function isQuiet({ remarks, disagrees, copied, unread }: FaultOutcome): boolean {
  return (
    unread === null && !copied && disagrees !== true && remarks.every(({ severity }) => severity === 'note')
  );
}

/** The targets for planted faults, and for clean recordings of the same course. */
export function faultTargets(tried: readonly FaultTried[]): TargetRow[] {
  const planted = tried.filter(({ fault }) => fault.name !== 'none');
  const visible = planted.filter(({ fault }) => fault.unseen === null);
  const rows: TargetRow[] = [];
  if (visible.length > 0) {
    const all = pooled(visible);
    const least = visible.toSorted((a, b) => namedRate(a).value - namedRate(b).value)[0];
    const under = visible.filter((one) => verdictOn(namedRate(one), wanted) !== 'met');
    rows.push({
      target: 'Faults that a recording can show, named: over 95 %',
      figure: `${percentWithin(all)} of ${all.of}; ${under.length} of ${visible.length} kinds below, least ${least === undefined ? '–' : `${least.fault.name} ${percent(namedRate(least).value)} %`}`,
      verdict: verdictOn(all, wanted),
    });
  }
  const others = planted.filter(({ fault }) => fault.unseen !== null);
  if (others.length > 0) {
    const all = pooled(others);
    rows.push({
      target: 'Faults that no single recording shows for certain, named with the prediction: over 95 %',
      figure: `${percentWithin(all)} of ${all.of}`,
      verdict: verdictOn(all, wanted),
    });
  }
  const clean = tried.find(({ fault }) => fault.name === 'none');
  if (clean !== undefined) {
    const quiet = rateOf(clean.outcomes.filter(isQuiet).length, clean.outcomes.length);
    const judged = clean.outcomes.filter(({ covered }) => covered !== null);
    const coverage = rateOf(judged.filter(({ covered }) => covered).length, judged.length);
    rows.push({
      target: 'Coverage on clean recordings of the example course: 93 to 97 %',
      figure: `${percentWithin(coverage)} of ${coverage.of}`,
      verdict: verdictOn(coverage, { low: 0.93, high: 0.97 }),
    });
    rows.push({
      target: 'No fault named on clean recordings of the example course: over 95 %',
      figure: `${percentWithin(quiet)} of ${quiet.of}`,
      verdict: verdictOn(quiet, wanted),
    });
  }
  return rows;
}

function pooled(tried: readonly FaultTried[]): Rate {
  const counts = tried.map((one) => namedRate(one));
  return rateOf(
    counts.reduce((sum, { count }) => sum + count, 0),
    counts.reduce((sum, { of }) => sum + of, 0),
  );
}

/** Every fault with what named it. */
export function faultSection(tried: readonly FaultTried[]): string {
  const rows = tried.map((one) => {
    const { fault, outcomes } = one;
    const clean = fault.name === 'none';
    const of = outcomes.length;
    const share = (so: (outcome: FaultOutcome) => boolean) => percent(outcomes.filter(so).length / of);
    return [
      fault.name,
      String(of),
      clean ? '–' : percentWithin(namedRate(one)),
      clean ? '–' : share(({ remarks }) => remarks.some(({ code }) => fault.remarks.includes(code))),
      share(({ disagrees }) => disagrees === true),
      share(({ repeat }) => repeat),
      said(outcomes),
    ];
  });
  const unseen = tried.flatMap(({ fault }) =>
    fault.unseen === null ? [] : [`- **${fault.name}**: ${fault.unseen}`],
  );
  const sections = [
    `## Planted faults

Practice sets of the example course (\`examples/thornwick\`), one fault in each set, analyzed as \`emberline compare\` does with the course's experiment file. A fault counts as named where a remark of its kind stands in the analysis; for some also where the time constant disagrees with its prediction, and for the file that was handed in twice where its copy is found.

${table(['Fault', 'Recordings', 'Named, %', 'By remark, %', 'Disagrees, %', 'Repeat, %', 'Cautions and calls for a repeat'], rows)}`,
  ];
  if (unseen.length > 0) {
    sections.push(
      `Some faults leave no mark that a single recording shows for certain:\n\n${unseen.join('\n')}`,
    );
  }
  return sections.join('\n\n');
}

/** The most frequent cautions and calls for a repeat. */
function said(outcomes: readonly FaultOutcome[]): string {
  const counts = new Map<string, number>();
  for (const { remarks } of outcomes) {
    const grave = remarks.filter(({ severity }) => severity !== 'note');
    for (const code of new Set(grave.map((one) => one.code))) counts.set(code, (counts.get(code) ?? 0) + 1);
  }
  const most = [...counts].sort((a, b) => b[1] - a[1]).slice(0, 3);
  return most.map(([code, count]) => `${code} ${count}`).join(', ') || '–';
}

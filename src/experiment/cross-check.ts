import type { z } from 'zod';
import { textReadTwoWays } from './path-ambiguity.ts';
import { type PathCodes, parsePattern } from './path-pattern.ts';
import type { Experiment } from './schema-keys.ts';

type Place = (string | number)[];
type Report = (path: Place, message: string) => void;

/** Holds the parts of an experiment file against each other: codes that must exist, things that go together. */
export function crossCheck(experiment: Experiment, context: z.RefinementCtx<Experiment>): void {
  const report: Report = (path, message) => context.addIssue({ code: 'custom', path, message });
  checkLeftOut(experiment, report);
  checkGroups(experiment, report);
  checkMeter(experiment, report);
  checkBodies(experiment, report);
  checkLogger(experiment, report);
  checkPattern(experiment, report);
  checkMarking(experiment, report);
}

/** The codes that a recording's path may name. */
export function pathCodes({ sections, groups, benches, bodies, flows }: Experiment): PathCodes {
  return {
    section: sections,
    group: Object.keys(groups),
    bench: benches,
    body: Object.keys(bodies),
    flow: Object.keys(flows),
  };
}

function missing(what: string, code: string, known: readonly string[]): string {
  const shown = known.slice(0, 20).join(', ');
  return `there is no ${what} "${code}" in this file; ${known.length === 0 ? 'it lists none' : `it has ${shown}`}`;
}

function checkLeftOut(experiment: Experiment, report: Report): void {
  const { body: bodies, flow: flows } = pathCodes(experiment);
  for (const [i, { body, flow }] of experiment.conditions['left-out'].entries()) {
    const path = ['conditions', 'left-out', i];
    if (body !== undefined && !bodies.includes(body))
      report([...path, 'body'], missing('body', body, bodies));
    if (flow !== undefined && !flows.includes(flow)) report([...path, 'flow'], missing('flow', flow, flows));
  }
}

function checkGroups({ groups, sections, benches }: Experiment, report: Report): void {
  const codes = Object.keys(groups);
  for (const [code, { section, bench, borrows }] of Object.entries(groups)) {
    for (const [i, other] of (borrows ?? []).entries()) {
      if (!codes.includes(other)) report(['groups', code, 'borrows', i], missing('group', other, codes));
    }
    if (section !== undefined && !sections.includes(section)) {
      report(['groups', code, 'section'], missing('section', section, sections));
    }
    if (bench !== undefined && !benches.includes(bench)) {
      report(['groups', code, 'bench'], missing('bench', bench, benches));
    }
  }
}

function checkMeter({ meter, flows }: Experiment, report: Report): void {
  const counts = meter?.kind === 'mass' ? 'mass' : 'volume';
  const unit = counts === 'mass' ? 'g/s or kg/h' : 'L/min, m3/h or ft3/h';
  for (const [code, flow] of Object.entries(flows)) {
    if (flow.kind !== 'metered' || (meter === undefined && flow.counts === 'volume')) continue;
    if (flow.counts !== counts) {
      report(['flows', code], `this meter counts ${counts}: write its reading in ${unit}`);
    }
  }
  if (meter === undefined) return;
  const scale = meter['full-scale'];
  if (scale !== undefined && scale.counts !== counts) {
    report(['meter', 'full-scale'], `this meter counts ${counts}: write the end of its scale in ${unit}`);
  }
  if ((meter.accuracy?.['of-full-scale'] ?? 0) > 0 && scale === undefined) {
    report(['meter', 'accuracy', 'of-full-scale'], 'give full-scale as well, the end of the scale');
  }
}

function checkBodies({ bodies }: Experiment, report: Report): void {
  for (const [code, body] of Object.entries(bodies)) {
    if (body.surface !== undefined && body.emissivity !== undefined) {
      report(['bodies', code, 'surface'], 'give a surface or an emissivity, not both');
    }
    if (body.shape === 'wire' && body.mass !== undefined) {
      report(['bodies', code, 'mass'], 'a mass is used for spheres and beads only; leave it out');
    }
  }
}

function checkLogger({ logger }: Experiment, report: Report): void {
  if (logger?.bits !== undefined && logger.range === undefined) {
    report(['logger', 'bits'], 'give the range as well, or the resolution alone');
  }
}

function checkPattern(experiment: Experiment, report: Report): void {
  if (experiment.recordings === undefined) return;
  const parsed = parsePattern(experiment.recordings);
  if (!parsed.ok) {
    report(['recordings'], parsed.message);
    return;
  }
  const codes = pathCodes(experiment);
  const plural = {
    section: 'sections',
    group: 'groups',
    bench: 'benches',
    body: 'bodies',
    flow: 'flows',
  } as const;
  for (const token of parsed.tokens) {
    if (token.kind === 'text' || token.name === 'repeat' || codes[token.name].length > 0) continue;
    report(['recordings'], `the pattern names {${token.name}}, but this file lists no ${plural[token.name]}`);
  }
  const twice = textReadTwoWays(parsed.tokens, codes);
  if (twice !== null) {
    report(
      ['recordings'],
      `the pattern can read "${twice}" in two ways; put a mark between the names that no code contains, such as _, or a folder`,
    );
  }
}

function checkMarking({ marking }: Experiment, report: Report): void {
  for (const [i, { of }] of marking.rubric.entries()) {
    const unasked = of.find((quantity) => !marking.asked.includes(quantity));
    if (unasked !== undefined) {
      report(['marking', 'rubric', i, 'of'], `groups are not asked for ${unasked}: add it to asked`);
    }
  }
}

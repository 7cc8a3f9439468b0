import {
  type Experiment,
  experimentSchema,
  experimentTemplate,
  parseChecked,
} from '../../src/experiment/index.ts';

/** The experiment that a text describes; fails with the faults where it does not fit. */
export function experimentOf(text: string): Experiment {
  const checked = parseChecked(text, experimentSchema);
  if (checked.ok) return checked.value;
  throw new Error(
    checked.faults.map(({ line, place, message }) => `${line} ${place}: ${message}`).join('\n'),
  );
}

/** The faults of a text, one a line: `line place: message`. */
export function faultsOf(text: string): string[] {
  const checked = parseChecked(text, experimentSchema);
  if (checked.ok) return [];
  return checked.faults.map(({ line, place, message }) => `${line} ${place}: ${message}`);
}

/** The example that `emberline new` writes, with a piece of it replaced; fails where the piece is not in it. */
export function templateWith(...replacements: readonly (readonly [piece: string, by: string])[]): string {
  let text = experimentTemplate;
  for (const [piece, by] of replacements) {
    if (!text.includes(piece)) throw new Error(`"${piece}" is not in the template`);
    text = text.replace(piece, by);
  }
  return text;
}

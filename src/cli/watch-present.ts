import type { BenchTile, FloorNow } from '../floor/index.ts';
import { type Ink, printable } from './terminal.ts';
import { benchWords, trialWords } from './watch-words.ts';
import { entry } from './wrap.ts';

/** Trials that are done, of which so many are shown. */
const shownTrials = 3;

/** All benches at one moment: lines of at most 80 columns, the calls first. */
export function presentFloor(path: string, now: FloorNow, ink: Ink): string[] {
  const { benches, calls, session, trouble } = now;
  const lines = [
    `${printable(path)}  ${ink.strong(timeOfDay(now.at))}`,
    ...entry('session', session.message),
  ];
  if (trouble !== null) {
    return [...lines, ...warmed('trouble', `${printable(trouble.message)} ${trouble.mend}`, ink)];
  }
  calls.forEach(({ bench, why }, i) => {
    lines.push(...(i === 0 ? [''] : []));
    lines.push(...warmed(i === 0 ? 'walk to' : 'then', `${printable(bench)}: ${printable(why)}`, ink));
  });
  for (const tile of benches) lines.push('', ...benchLines(tile, ink));
  return [...lines, ...careLines(benches)];
}

function benchLines(tile: BenchTile, ink: Ink): string[] {
  const { trial, trouble, trials, rig, bench } = tile;
  const name = printable(bench);
  const head = `  ${ink.strong(name)}${' '.repeat(Math.max(1, 11 - name.length))}${benchWords(tile)}`;
  const lines = tile.path === null ? [head] : [head, ...entry('', trialWords(tile))];
  if (trouble !== null)
    lines.push(...warmed('trouble', printable(`${trouble.message} ${trouble.mend}`), ink));
  if (trial !== null) {
    const { action, message } = trial.advice;
    const label = action === 'go-on' ? 'go on' : action === 'heat-off' ? 'heat off' : action;
    lines.push(
      ...(action === 'go-on' ? entry(label, printable(message)) : warmed(label, printable(message), ink)),
    );
  }
  for (const one of trials.slice(-shownTrials)) {
    const words = printable(`${one.path.split('/').at(-1) ?? one.path}: ${one.words}`);
    lines.push(...entry('done', words));
  }
  if (rig[0] !== undefined) lines.push(...entry('rig', printable(rig[0])));
  return lines;
}

/** What to take care of where somebody is told to heat, or has something hot before them. */
function careLines(benches: readonly BenchTile[]): string[] {
  const hot = benches.some(({ trial }) => {
    return (
      trial !== null && (trial.advice.action === 'start' || ['heating', 'cooling'].includes(trial.phase))
    );
  });
  if (!hot) return [];
  const care =
    'Aim hot air and the jet at nobody, eye protection on, hands off the hot body, nothing that burns nearby, and never leave the heater. The rules of your house come first.';
  return ['', ...entry('take care', care)];
}

function warmed(label: string, text: string, ink: Ink): string[] {
  return entry(label, text).map((line, i) => (i === 0 ? line.replace(label, ink.warm(label)) : line));
}

/** Of this machine's place. */
function timeOfDay(at: string): string {
  return new Date(at).toTimeString().slice(0, 8);
}

/** What has happened since the last time, a line each; of one bench or of all. */
export class FloorLog {
  readonly #said = new Map<string, string>();
  readonly #done = new Map<string, string>();
  readonly #calls = new Map<string, number>();
  #trouble: string | null = null;

  /** Lines for what is new. */
  lines(now: FloorNow): string[] {
    const lines: string[] = [];
    const time = timeOfDay(now.at);
    const say = (bench: string, text: string) =>
      lines.push(`${time}  ${printable(bench)}  ${printable(text)}`);
    const trouble = now.trouble === null ? null : `${now.trouble.message} ${now.trouble.mend}`;
    if (trouble !== null && trouble !== this.#trouble) lines.push(`${time}  ${printable(trouble)}`);
    this.#trouble = trouble;
    for (const tile of changedBenches(now.benches, this.#said)) {
      const trouble = tile.trouble === null ? '' : ` ${tile.trouble.message} ${tile.trouble.mend}`;
      const advice = tile.trial === null ? '' : `. ${tile.trial.advice.message}`;
      say(tile.bench, `${benchWords(tile)}: ${trialWords(tile)}${advice}${trouble}`);
    }
    for (const { bench, trials } of now.benches) {
      for (const { path, words } of trials) {
        if (this.#done.get(path) === words) continue;
        this.#done.set(path, words);
        say(bench, `${path} is done. ${words}`);
      }
    }
    for (const { bench, urgency, why } of now.calls) {
      if (this.#calls.get(bench) !== urgency) say(bench, `Walk there: ${why}`);
    }
    this.#calls.clear();
    for (const { bench, urgency } of now.calls) this.#calls.set(bench, urgency);
    return lines;
  }
}

/**
 * Benches at which something has happened, more than that time went on.
 *
 * @param said what was said of each bench; brought up to date
 */
export function changedBenches(benches: readonly BenchTile[], said: Map<string, string>): BenchTile[] {
  return benches.filter((tile) => {
    const { bench, path, trial, trouble, trials } = tile;
    const results = trials.map((one) => `${one.path} ${one.verdict} ${one.timeConstant}`);
    const state = JSON.stringify([path, trial?.phase, trial?.advice.action, trouble?.message, results]);
    if (said.get(bench) === state) return false;
    const isNew = !said.has(bench);
    said.set(bench, state);
    // A bench at which nothing was recorded yet is no news.
    return !isNew || path !== null;
  });
}

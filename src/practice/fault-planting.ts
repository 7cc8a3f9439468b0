import { conditionName, type Experiment } from '../experiment/index.ts';
import type { BenchTrial } from './bench-types.ts';
import { type FaultName, faultNames } from './fault-names.ts';
import { trialFaults } from './faults.ts';
import { type Draws, drawsFor } from './labelled-draws.ts';
import type { Placed } from './set-paths.ts';
import type { TrialDraft } from './set-trial.ts';
import { type FaultWish, type PlantedFault, PracticeError, type PracticeWishes } from './set-types.ts';

/** A recording before faults. */
export interface DraftedRecording extends Placed {
  readonly path: string;
  readonly draft: TrialDraft;
}

/** What became of a set: by the place of a recording in it. */
export interface Planted {
  readonly trials: BenchTrial[];
  /** Whose trial the file of a place shows. */
  readonly sources: number[];
  readonly faults: readonly (readonly PlantedFault[])[];
}

/** Faults at work in a set; a recording has at most one, so that each can be recognised by itself. */
class Planting {
  readonly trials: BenchTrial[];
  readonly sources: number[];
  readonly faults: PlantedFault[][];
  readonly #recordings: readonly DraftedRecording[];
  readonly #experiment: Experiment;
  readonly #touched = new Set<number>();

  constructor(recordings: readonly DraftedRecording[], experiment: Experiment) {
    this.#recordings = recordings;
    this.#experiment = experiment;
    this.trials = recordings.map(({ draft }) => draft.trial);
    this.sources = recordings.map((_, i) => i);
    this.faults = recordings.map(() => []);
  }

  get touched(): number {
    return this.#touched.size;
  }

  /** Plants a fault in one of the recordings that have none. @returns null, or why nowhere */
  plant({ name, group }: FaultWish, draws: Draws): string | null {
    const free = this.#recordings.flatMap((recording, i) => {
      return this.#touched.has(i) || (group !== null && recording.group.code !== group) ? [] : [i];
    });
    let why = 'every recording has a fault already';
    for (const i of draws.shuffled(free)) {
      const failed = this.#plantAt(i, name, draws);
      if (failed === null) return null;
      why = failed;
    }
    return why;
  }

  #plantAt(i: number, name: FaultName, draws: Draws): string | null {
    if (name === 'swapped') return this.#swap(i, draws);
    if (name === 'same-file') return this.#copy(i, draws);
    const fault = trialFaults.find((one) => one.name === name);
    const recording = this.#recordings[i];
    if (fault === undefined || recording === undefined) return 'there is no such fault';
    const thermocouple = this.#experiment.sensor.thermocouple ?? null;
    const spoiled = fault.apply({ ...recording.draft, thermocouple }, draws);
    if (!spoiled.ok) return spoiled.why;
    this.trials[i] = spoiled.trial;
    this.#mark(i, { name, numbers: spoiled.numbers });
    return null;
  }

  /** Time constants that differ by less than a quarter do not show that labels were exchanged. */
  #swap(i: number, draws: Draws): string | null {
    const one = this.#recordings[i];
    const others = this.#freeOthers(i, (other) => {
      const ratio = (other.draft.facts.timeConstant ?? 1) / (one?.draft.facts.timeConstant ?? 1);
      return other.group.code === one?.group.code && Math.max(ratio, 1 / ratio) >= 1.25;
    });
    const j = others[draws.index(others.length)];
    const other = j === undefined ? undefined : this.#recordings[j];
    if (one === undefined || j === undefined || other === undefined) {
      return 'no group has two recordings without a fault whose time constants differ by a quarter';
    }
    this.sources[i] = j;
    this.sources[j] = i;
    this.#mark(i, {
      name: 'swapped',
      numbers: {
        'is in truth': `${conditionName(other.condition)}, repeat ${other.repeat}`,
        with: other.path,
      },
    });
    this.#mark(j, {
      name: 'swapped',
      numbers: { 'is in truth': `${conditionName(one.condition)}, repeat ${one.repeat}`, with: one.path },
    });
    return null;
  }

  #copy(i: number, draws: Draws): string | null {
    const one = this.#recordings[i];
    const others = this.#freeOthers(i, (other) => {
      return (
        other.group.code !== one?.group.code &&
        other.repeat === one?.repeat &&
        conditionName(other.condition) === conditionName(one.condition)
      );
    });
    const j = others[draws.index(others.length)];
    const other = j === undefined ? undefined : this.#recordings[j];
    if (one === undefined || j === undefined || other === undefined) {
      return 'no other group has a recording of the same condition without a fault';
    }
    this.sources[i] = j;
    this.#mark(i, { name: 'same-file', numbers: { 'copied from': other.path } });
    this.#mark(j, { name: 'same-file', numbers: { 'copied to': one.path } });
    return null;
  }

  #freeOthers(i: number, fits: (other: DraftedRecording) => boolean): number[] {
    return this.#recordings.flatMap((other, j) =>
      j !== i && !this.#touched.has(j) && fits(other) ? [j] : [],
    );
  }

  #mark(i: number, fault: PlantedFault): void {
    this.faults[i]?.push(fault);
    this.#touched.add(i);
  }
}

/**
 * Plants the faults that were asked for, then as many by chance as make up the wanted part of all recordings.
 *
 * @throws PracticeError where one that was asked for by name can happen nowhere
 */
export function plantFaults(
  recordings: readonly DraftedRecording[],
  experiment: Experiment,
  { seed, faults, faultShare }: Pick<PracticeWishes, 'seed' | 'faults' | 'faultShare'>,
): Planted {
  const planting = new Planting(recordings, experiment);
  const codes = [...new Set(recordings.map(({ group }) => group.code))];
  for (const [i, wish] of faults.entries()) {
    if (wish.group !== null && !codes.includes(wish.group)) {
      throw new PracticeError(
        `The fault ${wish.name} is asked for in group ${wish.group}, which is not in this set: it has ${codes.slice(0, 20).join(', ')}.`,
      );
    }
    const why = planting.plant(wish, drawsFor(seed, 'fault', i, wish.name));
    if (why === null) continue;
    const where = wish.group === null ? '' : ` in group ${wish.group}`;
    throw new PracticeError(`The fault ${wish.name} cannot be planted${where}: ${why}.`);
  }
  plantByChance(planting, recordings.length, seed, faultShare);
  return planting;
}

/** Kinds follow one another as from a shuffled pack, so that small sets have different ones. */
function plantByChance(planting: Planting, recordings: number, seed: string, share: number): void {
  const wanted = planting.touched + Math.round(share * recordings);
  const draws = drawsFor(seed, 'faults by chance');
  let kinds: FaultName[] = [...faultNames];
  while (kinds.length > 0 && planting.touched < Math.min(wanted, recordings)) {
    const failed = new Set<FaultName>();
    for (const name of draws.shuffled(kinds)) {
      const left = Math.min(wanted, recordings) - planting.touched;
      if (left <= 0) return;
      const pair = name === 'swapped' || name === 'same-file';
      if (pair && left < 2) failed.add(name);
      else if (planting.plant({ name, group: null }, draws) !== null) failed.add(name);
    }
    kinds = kinds.filter((name) => !failed.has(name));
  }
}

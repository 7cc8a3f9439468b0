import { join } from 'node:path';
import {
  checksThatCount,
  referenceRunsThatCount,
  SensorError,
  type SensorSettings,
  sensorSettings,
} from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import type { ReferenceRun, RigCheck } from '../rig/index.ts';
import {
  ExperimentFileError,
  fileStamp,
  readExperiment,
  referenceRunsPath,
  rigChecksPath,
} from '../store/index.ts';
import type { FloorNow } from './types.ts';

/** The experiment file and the checks of the rigs, read again when they change. */
export class FolderState {
  readonly #folder: string;
  #experiment: Experiment | null = null;
  #trouble: FloorNow['trouble'] = null;
  #sensor: SensorSettings | null = null;
  #rigChecks: readonly RigCheck[] = [];
  #references: readonly ReferenceRun[] = [];
  #stamps = { experiment: '', rig: '', references: '' };

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** Null while it has faults. */
  get experiment(): Experiment | null {
    return this.#experiment;
  }

  /** What its file says of the sensor. */
  get sensor(): SensorSettings | null {
    return this.#sensor;
  }

  get trouble(): FloorNow['trouble'] {
    return this.#trouble;
  }

  /** Those that count, the first first. */
  get rigChecks(): readonly RigCheck[] {
    return this.#rigChecks;
  }

  /** Reference runs that count, the first first. */
  get references(): readonly ReferenceRun[] {
    return this.#references;
  }

  /** Reads what has changed, and says what that was. */
  async look(): Promise<{ readonly experiment: boolean; readonly rig: boolean }> {
    const stamps = {
      experiment: await fileStamp(join(this.#folder, 'experiment.yaml')),
      rig: await fileStamp(rigChecksPath(this.#folder)),
      references: await fileStamp(referenceRunsPath(this.#folder)),
    };
    const before = this.#stamps;
    this.#stamps = stamps;
    const experiment = stamps.experiment !== before.experiment;
    const checks = stamps.rig !== before.rig;
    const references = stamps.references !== before.references;
    if (experiment) await this.#readExperiment();
    if (checks) this.#rigChecks = await checksThatCount(this.#folder);
    if (references) this.#references = await referenceRunsThatCount(this.#folder);
    return { experiment, rig: checks || references };
  }

  #complain(message: string): void {
    this.#experiment = null;
    this.#trouble = {
      message,
      mend: 'Mend experiment.yaml: the benches are watched as soon as it can be used.',
    };
  }

  async #readExperiment(): Promise<void> {
    try {
      this.#experiment = await readExperiment(this.#folder);
      this.#trouble = null;
    } catch (error) {
      if (!(error instanceof ExperimentFileError)) throw error;
      const [fault] = error.faults;
      const place = fault === undefined || fault.place === '' ? '' : `${fault.place}: `;
      this.#complain(
        `experiment.yaml, line ${fault?.line ?? 1}: ${place}${fault?.message ?? 'it cannot be read'}.`,
      );
      return;
    }
    try {
      this.#sensor = sensorSettings(this.#experiment);
    } catch (error) {
      if (!(error instanceof SensorError)) throw error;
      this.#complain(`experiment.yaml: ${error.what}.`);
    }
  }
}

import { cpSync, mkdirSync, mkdtempSync, rmSync, utimesSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { analyzeFile, experimentDecaySettings, sensorSettings } from '../../src/analysis/index.ts';
import { openFloor } from '../../src/floor/index.ts';
import type { Floor } from '../../src/floor/types.ts';
import { readExperiment } from '../../src/store/index.ts';
import { Logger } from '../support/logger.ts';
import { loggerText } from '../support/text.ts';
import { plainTrial, simulateTrial, type TrialSettings } from '../support/trial.ts';

/** By how much the clock of the disk is behind ours, ms. */
export const behind = 37 * 60_000;

/** An experiment folder with loggers that write into it, and a clock that is moved by hand. */
export class BenchFloor {
  readonly folder = mkdtempSync(join(tmpdir(), 'emberline-floor-'));
  readonly logger = new Logger();
  now = Date.UTC(2026, 2, 2, 14, 0, 0);
  #floor: Floor | null = null;

  constructor() {
    cpSync(join('examples', 'thornwick', 'experiment.yaml'), join(this.folder, 'experiment.yaml'));
  }

  async open(): Promise<Floor> {
    const clock = { now: () => this.now };
    this.#floor = await openFloor({ folder: this.folder, clock, keepsTime: false });
    return this.#floor;
  }

  /** As after a power cut: nothing of the old one is left. */
  async reopen(): Promise<Floor> {
    await this.#floor?.close();
    return this.open();
  }

  file(path: string): string {
    const file = join(this.folder, path);
    mkdirSync(dirname(file), { recursive: true });
    return file;
  }

  /** Writes into the file that is open, and gives it the time that the disk's clock shows. */
  async write(path: string, text: string): Promise<void> {
    await this.logger.write(text);
    this.stamp(path);
  }

  stamp(path: string): void {
    const time = (this.now - behind) / 1000;
    utimesSync(join(this.folder, path), time, time);
  }

  /** Records pieces of a trial, a second of our clock each, and looks after each. */
  async record(
    path: string,
    pieces: readonly string[],
    floor: Floor,
    seen: () => void = () => undefined,
  ): Promise<void> {
    await this.logger.open(this.file(path));
    for (const piece of pieces) {
      await this.write(path, piece);
      this.now += 1000;
      await floor.look();
      seen();
    }
  }

  /** Nothing happens for so many seconds but that the floor looks. */
  async rest(floor: Floor, seconds: number): Promise<void> {
    for (let i = 0; i < seconds; i++) {
      this.now += 1000;
      await floor.look();
    }
    await floor.settled();
    await floor.look();
  }

  async end(): Promise<void> {
    await this.#floor?.close();
    await this.logger.end();
    rmSync(this.folder, { recursive: true });
  }
}

/** What a logger writes of a trial, in pieces of a second. */
export function trialPieces(wishes: Partial<TrialSettings> = {}): string[] {
  const settings = { ...plainTrial, rate: 20, timeConstant: 20, heating: 30, ...wishes };
  const { temperature } = simulateTrial(settings);
  const text = loggerText([temperature], settings.rate, {
    preamble: ['Time (s)\tT (°C)'],
    delimiter: '\t',
    decimal: '.',
    lineEnd: '\n',
    timeDecimals: 2,
    valueDecimals: 3,
  });
  const lines = text.split('\n').map((line) => `${line}\n`);
  const pieces: string[] = [lines.slice(0, 1).join('')];
  const rows = lines.slice(1, -1);
  for (let i = 0; i < rows.length; i += settings.rate) {
    pieces.push(rows.slice(i, i + settings.rate).join(''));
  }
  return pieces;
}

/** What the analysis of a whole file comes to. */
export async function wholeResult(folder: string, path: string, body: string) {
  const experiment = await readExperiment(folder);
  const { decay } = await analyzeFile(join(folder, path), {
    read: {},
    chain: sensorSettings(experiment),
    zero: null,
    settings: experimentDecaySettings(experiment, body),
  });
  return decay;
}

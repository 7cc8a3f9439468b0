/** A group's own recording as a spreadsheet holds it. Times in s from the first reading, temperatures in °C. */
export interface StudentRecording {
  /** Block means; short against the time constant. */
  readonly time: ArrayLike<number>;
  readonly temperature: ArrayLike<number>;
  /** What the logger showed, V; null where it shows degrees. */
  readonly volts: ArrayLike<number> | null;
  /** Degrees by the table of another type from what the logger showed; null where that is not a voltage. */
  readonly byType: ((type: string, volts: number) => number) | null;
  /** What the blocks are made of; null where each is one reading. */
  readonly readings: StudentReadings | null;
  /** Readings a second. */
  readonly rate: number;
  /** Level before the heating. */
  readonly ambient: number;
  /** Temperature of the jet as the experiment gives it; null where it gives none. */
  readonly jet: number | null;
  /** What a thermometer in the room shows; null where nobody knows. */
  readonly room: number | null;
  /** Hottest reading as a class takes it. */
  readonly start: { readonly time: number; readonly temperature: number };
  /** Highest single reading of all. */
  readonly highest: number;
  readonly heatingFrom: number | null;
  readonly heatOff: number;
  /** Error fractions of the window, the larger first. */
  readonly window: readonly [number, number];
}

/** Of each block. */
interface StudentReadings {
  readonly count: ArrayLike<number>;
  /** Sum of squared deviations from the mean, K². */
  readonly squares: ArrayLike<number>;
  /** Lowest reading, °C. */
  readonly lowest: ArrayLike<number>;
}

/** What is missing, or does not fit, between a channel and its sensor. */
export type SensorTrouble =
  | 'unit'
  | 'resistance'
  | 'thermocouple'
  | 'junction'
  | 'junction-channel'
  | 'junction-written'
  | 'tolerance';

const mends: Readonly<Record<SensorTrouble, string>> = {
  unit: 'write it behind the name of the column, as "Temp (degC)" or "V (mV)"',
  resistance: 'say which sensor it is under sensor in the experiment file, as resistance: Pt100',
  thermocouple: 'say which thermocouple it is under sensor in the experiment file, as thermocouple: T',
  junction:
    'say where its reference junction is under sensor in the experiment file, as junction: ice, junction: 22.5 degC or the name of a channel',
  'junction-channel': 'name one of its columns under sensor › junction in the experiment file',
  'junction-written': 'write it under sensor › junction in the experiment file as ice or 22.5 degC',
  tolerance: 'change tolerance-class under sensor in the experiment file',
};

/** A channel that cannot be turned into degrees; the message says what to write in the experiment file. */
export class SensorError extends Error {
  readonly trouble: SensorTrouble;
  /** The recording, channel, junction or class that it is about. */
  readonly about: string;
  /** What was seen, without the mend. */
  readonly seen: string;
  /** What is wrong. */
  readonly what: string;
  /** What to do. */
  readonly mend: string;

  constructor(trouble: SensorTrouble, about: string, seen: string) {
    const named = trouble === 'junction-channel' || trouble === 'junction-written' || trouble === 'tolerance';
    const what = `${named ? `${about}: ` : ''}${seen}`;
    super(`${what}: ${mends[trouble]}`);
    this.name = 'SensorError';
    this.trouble = trouble;
    this.about = about;
    this.seen = seen;
    this.what = what;
    this.mend = mends[trouble];
  }
}

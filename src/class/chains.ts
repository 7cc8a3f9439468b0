import { median, scaledMad } from '../statistics/index.ts';
import { type ClassRecording, groupedByName } from './recording.ts';

/** Recordings whose sensor chain is set as most are not, or shows a room that the others do not see. */
export interface UnlikeChain {
  readonly kind: 'set' | 'shows';
  readonly paths: readonly string[];
  /** The bench, where all its recordings are set so and no other's; else null. */
  readonly bench: string | null;
  readonly sentence: string;
}

/** Rooms and jets differ by so much from hour to hour, K (common practice, no source). */
const usualDifference = 4;
/** Robust deviations beyond which an ambient is another one than the class has. */
const furthest = 6;
/** Fewer tell no usual ambient. */
const fewest = 5;

/**
 * Chains that are set differently from most: as their files and the experiment file say, and as the ambient shows that
 * they read, for what an amplifier is set to stands in no file. A bench that is set so throughout is one entry.
 */
export function unlikeChains(recordings: readonly ClassRecording[]): UnlikeChain[] {
  return [...setUnlike(recordings), ...showingUnlike(recordings)];
}

function setUnlike(recordings: readonly ClassRecording[]): UnlikeChain[] {
  const known = recordings.flatMap(({ path, chain, bench }) =>
    chain === null ? [] : [{ path, chain, bench }],
  );
  const sets = [...groupedByName(known, ({ chain }) => chain)].sort((a, b) => b[1].length - a[1].length);
  const [usual = ''] = sets[0] ?? [];
  const benches = groupedByName(known, ({ bench }) => bench ?? '');
  return sets.slice(1).flatMap(([chain, own]) => {
    return [...groupedByName(own, ({ bench }) => bench ?? '')].map(([bench, there]): UnlikeChain => {
      const all = benches.get(bench)?.length ?? 0;
      const whole = bench !== '' && all === there.length && all > 1;
      const count = there.length === 1 ? 'One recording' : `${there.length} recordings`;
      const who = whole ? `All ${all} recordings of ${bench}` : bench === '' ? count : `${count} of ${bench}`;
      return {
        kind: 'set',
        paths: there.map(({ path }) => path),
        bench: whole ? bench : null,
        sentence: `${who}: ${ended(chain)} Most of the class: ${ended(usual)}`,
      };
    });
  });
}

function ended(text: string): string {
  return text.endsWith('.') ? text : `${text}.`;
}

function showingUnlike(recordings: readonly ClassRecording[]): UnlikeChain[] {
  const known = recordings.flatMap(({ path, ambient }) => (ambient === null ? [] : [{ path, ambient }]));
  if (known.length < fewest) return [];
  const values = known.map(({ ambient }) => ambient);
  const middle = median(values);
  const limit = Math.max(usualDifference, furthest * scaledMad(values));
  return known
    .filter(({ ambient }) => Math.abs(ambient - middle) > limit)
    .map(({ path, ambient }) => ({
      kind: 'shows',
      paths: [path],
      bench: null,
      sentence: `Its ambient is ${ambient.toFixed(1)} °C, that of the class ${middle.toFixed(1)} °C: look again at gain, zero, reference junction and type of the sensor.`,
    }));
}

import { type DecaySettings, defaultSegmentSettings, findSegments } from '../decay/index.ts';
import type { Trace } from '../sensing/index.ts';
import type { Marks } from '../store/index.ts';

/** No mark by hand: everything as it is found. */
export const noMarks: Marks = { baseline: null, cooling: null, heating: null };

/** Settings with marks by hand in them; what is null is found. */
export function withMarks(settings: DecaySettings, marks: Marks): DecaySettings {
  const { baseline, cooling, heating } = marks;
  return { ...settings, heating: heating ?? settings.heating, marks: { baseline, cooling } };
}

/** Where a recording is cut by these settings. */
export function marksOf(trace: Trace, settings: DecaySettings): Marks {
  const { segments, heatingUsed } = findSegments(trace, {
    ...defaultSegmentSettings,
    mains: settings.mains,
    heating: settings.heating,
    endFraction: settings.endFraction,
    ...settings.marks,
  });
  return { baseline: segments.baseline, cooling: segments.cooling, heating: heatingUsed };
}

/**
 * Names as the view allows them: in the projector view no group or bench can be told from another.
 *
 *   groupName('A3', projector)            'A3', or 'a group'
 *   recordingName(place, path, projector) 'A3 brass-12 at 60, repeat 2', or 'brass-12 at 60, repeat 2'
 *   conditionWords('brass-12', '60')      'brass-12 at 60'
 */
import type { PlaceView } from '../../../src/server/contract/index.ts';

/** A group's code, or that it is one. */
export function groupName(group: string | null, projector: boolean): string {
  if (projector) return 'a group';
  return group ?? 'no group';
}

/** Body and flow of a condition, as they are coded in the experiment file. */
export function conditionWords(body: string | null, flow: string | null): string {
  return `${body ?? 'unknown body'} at ${flow ?? 'unknown flow'}`;
}

/** A recording by what it is of, else by the end of its path. */
export function recordingName(place: PlaceView, path: string, projector: boolean): string {
  if (place.body === null) return projector ? 'a recording' : (path.split('/').at(-1) ?? path);
  const repeat = place.repeat === null ? '' : `, repeat ${place.repeat}`;
  const group = projector ? '' : `${place.group ?? place.bench ?? place.section ?? ''} `;
  return `${group}${conditionWords(place.body, place.flow)}${repeat}`.trimStart();
}

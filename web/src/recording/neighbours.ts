/** The recordings next to one: of the same condition, and of the same group. */
import type { PlaceView, Summary } from '../../../src/server/contract/index.ts';

export interface Neighbours {
  /** The same body and flow, by other groups or again. */
  readonly condition: readonly Summary[];
  /** The same group, of other bodies and flows. */
  readonly group: readonly Summary[];
}

/** In the order of the list, without the recording itself. */
export function neighboursOf(path: string, place: PlaceView, recordings: readonly Summary[]): Neighbours {
  const others = recordings.filter((r) => r.path !== path);
  const sameCondition = (r: Summary) =>
    place.body !== null && r.place.body === place.body && r.place.flow === place.flow;
  const sameGroup = (r: Summary) =>
    place.group !== null && r.place.group === place.group && r.place.section === place.section;
  return {
    condition: others.filter(sameCondition),
    group: others.filter((r) => sameGroup(r) && !sameCondition(r)),
  };
}

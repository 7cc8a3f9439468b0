import { type Experiment, entryOf, type NamedPlace } from '../experiment/index.ts';
import { staffOwner } from '../store/index.ts';
import type { Caller } from './access/caller.ts';
import { RequestProblem } from './problem.ts';

/** Whose the files are that somebody hands over: a group's, or the staff's. */
export function ownerOf({ group }: Caller): string {
  return group === null ? staffOwner : `group ${group}`;
}

/** Whether somebody may have to do with a file: groups with their own alone. */
export function isOwn(caller: Caller, owner: string): boolean {
  return caller.group === null || owner === ownerOf(caller);
}

/**
 * The place that somebody may hand a recording in at: a group's own, whatever is asked for.
 *
 * @throws RequestProblem where a group names another one
 */
export function ownPlace(experiment: Experiment, { group }: Caller, place: NamedPlace): NamedPlace {
  if (group === null) return place;
  const section = entryOf(experiment.groups, group)?.section;
  const { body, flow, repeat } = place;
  if (place.group !== undefined && place.group !== group) throw othersPlace(place.group);
  if (place.section !== undefined && section !== undefined && place.section !== section) {
    throw othersPlace(place.section);
  }
  return { group, section, bench: entryOf(experiment.groups, group)?.bench, body, flow, repeat };
}

function othersPlace(code: string): RequestProblem {
  return new RequestProblem(
    'not-allowed',
    `A group hands in its own recordings, not those of ${JSON.stringify(code.slice(0, 60))}.`,
    'Leave the group out, or ask the instructor.',
  );
}

import type { FolderList } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import type { MineRecording } from './contract/index.ts';
import { type Said, toldRemark } from './told.ts';

type Summary = FolderList['recordings'][number];

/** Whether a recording is one of a group: as its path says, or by a bench that no other group has. */
export function isOwn(
  { groups }: Pick<Experiment, 'groups'>,
  group: string,
  { place }: Pick<Summary, 'place'>,
): boolean {
  if (place.group !== null) return place.group === group;
  if (place.bench === null) return false;
  const there = Object.keys(groups).filter((code) => groups[code]?.bench === place.bench);
  return there.length === 1 && there[0] === group;
}

/**
 * A recording as its group is told of it before the release.
 *
 * @param said of it, as the analysis has it
 * @param own paths of the group: a copy of anybody else's recording is not told
 */
export function ownRecording(
  summary: Summary,
  said: readonly Said[],
  own: ReadonlySet<string>,
): MineRecording {
  const { path, place } = summary;
  const state = stateOf(summary);
  const told = said.flatMap((one) => toldRemark(one) ?? []);
  const copyOf = summary.copyOf !== null && own.has(summary.copyOf) ? summary.copyOf : null;
  const remarks = state === 'waiting' || state === 'writing' ? [] : told;
  return {
    path,
    name: nameOf(path),
    body: place.body,
    flow: place.flow,
    repeat: place.repeat,
    state,
    words: wordsOf(state, summary, remarks, copyOf),
    remarks: remarks.map(({ severity, message, action }) => ({ severity, message, action })),
  };
}

/** Whether a recording is one of those that were asked for. */
export function counts({ state }: Pick<MineRecording, 'state'>): boolean {
  return state === 'usable' || state === 'usable-with-remarks';
}

function nameOf(path: string): string {
  return path.split('/').at(-1) ?? path;
}

function stateOf({ state, rejected, verdict }: Summary): MineRecording['state'] {
  if (state === 'waiting' || state === 'writing' || state === 'unreadable') return state;
  if (rejected) return 'set-aside';
  return verdict ?? 'repeat';
}

function wordsOf(
  state: MineRecording['state'],
  { message }: Summary,
  told: readonly Said[],
  copyOf: string | null,
): string {
  const copy = copyOf === null ? '' : ` It is the same, byte for byte, as ${nameOf(copyOf)}.`;
  switch (state) {
    case 'waiting':
      return 'It is looked at now.';
    case 'writing':
      return 'It is still being written.';
    case 'unreadable':
      return `It cannot be read: ${message ?? 'nothing was recorded.'}${copy}`;
    case 'set-aside':
      return 'It was set aside by those who run the session.';
    case 'usable':
      return `Usable.${copy}`;
    case 'usable-with-remarks':
      return `Usable, with remarks.${copy}`;
    case 'repeat': {
      const why = told.find(({ severity }) => severity === 'repeat');
      return `Repeat it: ${why?.message ?? 'ask those who run the session for the reason.'}${copy}`;
    }
  }
}

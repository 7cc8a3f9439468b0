import type { PlaceView, Summary } from '../../src/server/contract/index.ts';

interface Wishes extends Partial<PlaceView>, Partial<Pick<Summary, 'verdict' | 'codes' | 'strip'>> {
  readonly value?: number | null;
  readonly state?: Summary['state'];
  readonly message?: string;
  readonly decided?: boolean;
  readonly rejected?: boolean;
  readonly copyOf?: string;
  readonly note?: string;
}

/** A recording as the server lists it; usable unless wished otherwise. */
export function recordingOf(
  group: string | null,
  body: string | null,
  flow: string | null,
  wishes: Wishes = {},
): Summary {
  const { value = 50, repeat = 1, section = group?.slice(0, 1) ?? null, bench = null } = wishes;
  return {
    path: `recordings/${section}/${group}/${body}_${flow}-${repeat}.txt`,
    place: { section, group, bench, body, flow, repeat },
    state: wishes.state ?? 'analyzed',
    message: wishes.message ?? null,
    note: wishes.note ?? null,
    timeConstant:
      value === null
        ? null
        : {
            value,
            standardUncertainty: 0.2,
            interval: [value - 0.4, value + 0.4],
            coverage: 0.95,
            degreesOfFreedom: 100,
            method: 'exponential-fit',
          },
    verdict: wishes.verdict ?? 'usable',
    codes: wishes.codes ?? [],
    strip: wishes.strip ?? null,
    decided: wishes.decided ?? false,
    rejected: wishes.rejected ?? false,
    copyOf: wishes.copyOf ?? null,
    duration: 300,
    startedAt: null,
  };
}

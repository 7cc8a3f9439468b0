import { expect, test } from 'vitest';
import type { FloorNow } from '../../src/floor/index.ts';
import { eventBytes, sharedEvents } from '../../src/server/floor-stream.ts';

function floorAt(at: string): FloorNow {
  const session = { elapsed: null, length: null, remaining: null, left: [], message: '' };
  return { at, benches: [], calls: [], session, trouble: null };
}

test('an event is made once for a state of the floor and what of it is told', () => {
  const shared = sharedEvents();
  const first = floorAt('2026-03-02T14:00:00.000Z');
  const second = floorAt('2026-03-02T14:00:01.000Z');
  let made = 0;
  const told = (now: FloorNow, key: string) =>
    new TextDecoder().decode(
      shared(now, key, () => {
        made += 1;
        return eventBytes('floor', { at: now.at, key });
      }),
    );
  for (let reader = 0; reader < 3; reader++) {
    expect(told(first, 'A1')).toBe('event: floor\ndata: {"at":"2026-03-02T14:00:00.000Z","key":"A1"}\n\n');
    expect(told(second, 'A1')).toContain(second.at);
    expect(told(first, 'A1 A2')).toContain('"A1 A2"');
  }
  expect(made).toBe(3);
});

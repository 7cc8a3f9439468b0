import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Floor, FloorNow } from '../../src/floor/index.ts';
import { type FloorView, floorView } from '../../src/server/contract/index.ts';
import { floorViewOf } from '../../src/server/floor-view.ts';
import { shareFloor } from '../../src/server/shared-floor.ts';
import { trialPieces } from '../floor/bench-floor.ts';
import { experimentText, testServer } from './app.ts';

const path = 'recordings/g1/brass-12_60-1.txt';

type Server = Awaited<ReturnType<typeof testServer>>;
let server: Server;
beforeAll(async () => {
  server = await testServer({ text: experimentText });
  const file = join(server.folder, path);
  mkdirSync(dirname(file), { recursive: true });
  // Baseline and heating, and a little of the cooling.
  writeFileSync(file, trialPieces().slice(0, 60).join(''));
});
afterAll(() => server.remove());

/** Events of a stream as they come. */
async function* eventsOf(answer: Response): AsyncGenerator<{ kind: string; data: unknown }> {
  let text = '';
  const decoder = new TextDecoder();
  const reader = answer.body?.getReader();
  for (;;) {
    const piece = await reader?.read();
    if (piece?.value === undefined) return;
    text += decoder.decode(piece.value, { stream: true });
    for (let at = text.indexOf('\n\n'); at >= 0; at = text.indexOf('\n\n')) {
      const [, kind, data] = /^event: (\w+)\ndata: (.*)$/.exec(text.slice(0, at)) ?? [];
      text = text.slice(at + 2);
      if (kind !== undefined) yield { kind, data: JSON.parse(data ?? '') };
    }
  }
}

async function nextFloor(events: AsyncGenerator<{ kind: string; data: unknown }>): Promise<FloorView> {
  for (;;) {
    const { value } = await events.next();
    if (value?.kind === 'floor') return floorView.parse(value.data);
  }
}

describe('the floor over the wire', () => {
  test('is told at once and whole, and then by what changes', async () => {
    const answer = await server.app.request('/api/floor/events');
    expect(answer.headers.get('content-type')).toBe('text/event-stream');
    const events = eventsOf(answer);
    const first = await nextFloor(events);
    expect(first.names).toEqual(['g1']);
    expect(first.benches.map(({ bench }) => bench)).toEqual(first.names);
    writeFileSync(join(server.folder, path), trialPieces().slice(60, 63).join(''), { flag: 'a' });
    const next = await nextFloor(events);
    expect(next.benches).toMatchObject([
      { bench: 'g1', path, condition: { body: 'brass-12', flow: '60' }, repeat: 1 },
    ]);
    await events.return(undefined);
    const asked = floorView.parse(await (await server.app.request('/api/floor')).json());
    expect(asked.names).toEqual(['g1']);
    expect(server.logged).toEqual([]);
  });
});

const nothing: FloorNow = {
  at: '2026-03-02T14:00:00.000Z',
  benches: [],
  calls: [],
  session: { elapsed: null, length: null, remaining: null, left: [], message: '' },
  trouble: null,
};

/** A floor that only counts how often it was opened and closed. */
function countedFloor() {
  const count = { opened: 0, closed: 0, listeners: 0 };
  const open = async (): Promise<Floor> => {
    count.opened += 1;
    return {
      now: () => nothing,
      look: async () => undefined,
      settled: async () => undefined,
      onChange: () => {
        count.listeners += 1;
        return () => {
          count.listeners -= 1;
        };
      },
      close: async () => {
        count.closed += 1;
      },
    };
  };
  return { count, open };
}

describe('a shared floor', () => {
  test('is opened once for all, and closed when the last one is gone', async () => {
    const { count, open } = countedFloor();
    const shared = shareFloor(open, 0);
    const told: string[][] = [];
    const [stop, other] = await Promise.all([
      shared.listen((_, changed) => told.push([...changed])),
      shared.listen(() => undefined),
    ]);
    expect(count).toEqual({ opened: 1, closed: 0, listeners: 2 });
    expect(told).toEqual([[]]);
    stop();
    stop();
    await shared.now();
    expect(count).toMatchObject({ opened: 1, listeners: 1 });
    other();
    await expect.poll(() => count.closed).toBe(1);
    await shared.now();
    expect(count.opened).toBe(2);
    await shared.close();
    expect(count.closed).toBe(2);
  });

  test('can be opened again after it could not be', async () => {
    const { count, open } = countedFloor();
    let fail = true;
    const shared = shareFloor(() => (fail ? Promise.reject(new Error('no folder')) : open()), 0);
    await expect(shared.listen(() => undefined)).rejects.toThrow('no folder');
    fail = false;
    await shared.now();
    expect(count.opened).toBe(1);
    await shared.close();
  });
});

test('a time that cannot be named crosses the wire as none, and only the tiles that are asked for', () => {
  const tile: FloorNow['benches'][number] = {
    bench: 'left',
    group: null,
    section: null,
    condition: null,
    repeat: null,
    path: null,
    trial: {
      phase: 'cooling',
      since: 50,
      time: 60,
      temperature: 80.123,
      slope: null,
      ambient: 22,
      peak: null,
      heatOff: 50,
      errorFraction: 0.8,
      timeConstant: null,
      forecast: {
        remaining: 30,
        interval: [20, Number.POSITIVE_INFINITY],
        coverage: 0.95,
        from: 'expected',
      },
      gates: [],
      advice: { action: 'go-on', message: 'Keep recording.' },
      series: { time: [0, 0.123456], temperature: [22.0049, Number.NaN] },
    },
    trouble: null,
    quiet: 1,
    trials: [],
    rig: [],
  };
  const now = { ...nothing, benches: [tile, { ...tile, bench: 'right' }] };
  const view = floorView.parse(JSON.parse(JSON.stringify(floorViewOf(now, new Set(['right'])))));
  expect(view.names).toEqual(['left', 'right']);
  expect(view.benches.map(({ bench }) => bench)).toEqual(['right']);
  expect(view.benches[0]?.trial).toMatchObject({
    forecast: { interval: [20, null] },
    series: { time: [0, 0.12], temperature: [22, null] },
  });
});

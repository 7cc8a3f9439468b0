import type { Floor, FloorNow } from '../floor/index.ts';

/** Told of the floor, with the codes of the benches whose tiles are not as they were. */
type FloorListener = (now: FloorNow, changed: readonly string[]) => void;

/** One floor for all who look at it, open while somebody does. */
export interface SharedFloor {
  /** As it is; opens it where it is closed. */
  now(): Promise<FloorNow>;
  /**
   * @param listener told of the whole floor at once, then of what changes
   * @returns ends the telling
   */
  listen(listener: FloorListener): Promise<() => void>;
  close(): Promise<void>;
}

/** The floor stays open for so long after the last one went, ms: a page that is reloaded finds it as it was. */
const lingering = 60_000;

/**
 * @param open opens the floor
 * @param linger ms that it stays open after the last one went
 */
export function shareFloor(open: () => Promise<Floor>, linger = lingering): SharedFloor {
  let floor: Promise<Floor> | null = null;
  let listeners = 0;
  let timer: NodeJS.Timeout | null = null;

  const opened = () => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    floor ??= open().catch((error: unknown) => {
      floor = null;
      throw error;
    });
    return floor;
  };
  const shut = async () => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    const last = floor;
    floor = null;
    await (await last?.catch(() => null))?.close();
  };
  const leave = () => {
    if (listeners > 0 || floor === null) return;
    if (timer !== null) clearTimeout(timer);
    timer = setTimeout(() => void shut(), linger);
    timer.unref();
  };

  return {
    now: async () => {
      listeners += 1;
      try {
        return (await opened()).now();
      } finally {
        listeners -= 1;
        leave();
      }
    },
    listen: async (listener) => {
      listeners += 1;
      let stop: (() => void) | null = null;
      let ended = false;
      const end = () => {
        if (ended) return;
        ended = true;
        stop?.();
        listeners -= 1;
        leave();
      };
      try {
        const watched = await opened();
        const now = watched.now();
        listener(
          now,
          now.benches.map(({ bench }) => bench),
        );
        stop = watched.onChange(listener);
        return end;
      } catch (error) {
        end();
        throw error;
      }
    },
    close: shut,
  };
}

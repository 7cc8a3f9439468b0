/** A rectangle, px. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A point that wants its name beside it. */
export interface Named {
  readonly x: number;
  readonly y: number;
  /** Width and height of the name, px. */
  readonly width: number;
  readonly height: number;
}

/** Where names were put: its box, and whether it stands so far off that a line must tie it to its point. */
export interface PlacedName {
  readonly box: Box;
  readonly tied: boolean;
}

/** Directions that are tried in turn, in units of a circle from the right, upwards: aside first. */
const directions = [0, 0.5, 0.125, 0.375, 0.875, 0.625, 0.0625, 0.4375, 0.9375, 0.5625, 0.25, 0.75] as const;
const distances = [9, 16, 28, 44, 64, 88, 116, 148, 190] as const;

/** A name nearer than this needs no line. */
const near = 20;

/**
 * Finds a place for each name that touches no other name and no obstacle, as near to its point as it goes. Points
 * with close neighbours choose first, as they have the least room.
 *
 * @param points in any order
 * @param obstacles what names must not cover: marks, lines
 * @param bounds within which names must stand
 * @returns in the order of the points; null where there is no room
 */
export function placeNames(
  points: readonly Named[],
  obstacles: readonly Box[],
  bounds: Box,
): readonly (PlacedName | null)[] {
  const order = points
    .map((point, i) => ({ point, i, room: nearest(point, points) }))
    .sort((a, b) => a.room - b.room || a.i - b.i);
  const taken: Box[] = [...obstacles];
  const placed: (PlacedName | null)[] = points.map(() => null);
  for (const { point, i } of order) {
    const found = firstFree(point, taken, bounds);
    if (found === null) continue;
    taken.push(found.box);
    placed[i] = found;
  }
  return placed;
}

function firstFree(point: Named, taken: readonly Box[], bounds: Box): PlacedName | null {
  for (const distance of distances) {
    for (const turn of directions) {
      const box = boxAt(point, turn, distance);
      const inside =
        box.left >= bounds.left &&
        box.right <= bounds.right &&
        box.top >= bounds.top &&
        box.bottom <= bounds.bottom;
      if (inside && !taken.some((other) => overlap(box, other))) return { box, tied: distance > near };
    }
  }
  return null;
}

/** The name's box with its nearest edge or corner at a distance from the point. */
function boxAt({ x, y, width, height }: Named, turn: number, distance: number): Box {
  const dx = Math.cos(2 * Math.PI * turn);
  const dy = -Math.sin(2 * Math.PI * turn);
  const left = x + dx * distance + (Math.abs(dx) < 0.1 ? -width / 2 : dx < 0 ? -width : 0);
  const top = y + dy * distance - height / 2 + (dy * height) / 2;
  return { left, top, right: left + width, bottom: top + height };
}

/** Whether two rectangles have ground in common. */
export function overlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

function nearest(point: Named, points: readonly Named[]): number {
  return points.reduce((least, other) => {
    return other === point ? least : Math.min(least, Math.hypot(other.x - point.x, other.y - point.y));
  }, Number.POSITIVE_INFINITY);
}

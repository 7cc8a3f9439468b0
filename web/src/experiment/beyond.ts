/** More are counted, not named. */
const mostNamed = 4;

/** Which groups are out of sight, and how to get there; the way back where that is all. */
export function beyondWords(before: readonly string[], behind: readonly string[]): string {
  const sides = [sideWords(before, 'left'), sideWords(behind, 'right')].filter((words) => words !== '');
  return sides.length === 0
    ? 'Every group is in view.'
    : `Out of view: ${sides.join('; ')}. Scroll along, or use the arrow keys.`;
}

function sideWords(names: readonly string[], side: 'left' | 'right'): string {
  if (names.length === 0) return '';
  return `${names.length > mostNamed ? `${names.length} groups` : names.join(', ')} to the ${side}`;
}

/** A line of a difference: `gone` lines carry their number in the old text, the others that in the new one. */
export interface DifferenceLine {
  readonly kind: 'same' | 'gone' | 'new';
  /** Counted from 1. */
  readonly line: number;
  readonly text: string;
}

/** Beyond this many pairs of differing lines the middle is shown as gone and new at once. */
const mostPairs = 4_000_000;

/**
 * How a text differs from another, line by line: the fewest lines go and come (longest common subsequence, Wagner &
 * Fischer, J. ACM 21 (1974) 168, over what is left between common beginning and end).
 */
export function lineDifference(before: string, after: string): DifferenceLine[] {
  const old = before.split('\n');
  const fresh = after.split('\n');
  let start = 0;
  while (start < old.length && start < fresh.length && old[start] === fresh[start]) start++;
  let end = 0;
  const room = Math.min(old.length, fresh.length) - start;
  while (end < room && old[old.length - 1 - end] === fresh[fresh.length - 1 - end]) end++;
  const middle = between(old.slice(start, old.length - end), fresh.slice(start, fresh.length - end));
  const lines: DifferenceLine[] = [];
  let [i, j] = [0, 0];
  const same = (count: number) => {
    for (let n = 0; n < count; n++, i++, j++) {
      lines.push({ kind: 'same', line: j + 1, text: fresh[j] ?? '' });
    }
  };
  same(start);
  for (const kind of middle) {
    if (kind === 'same') same(1);
    else if (kind === 'gone') {
      lines.push({ kind, line: i + 1, text: old[i] ?? '' });
      i++;
    } else {
      lines.push({ kind, line: j + 1, text: fresh[j] ?? '' });
      j++;
    }
  }
  same(end);
  return lines;
}

function between(old: readonly string[], fresh: readonly string[]): DifferenceLine['kind'][] {
  const width = fresh.length + 1;
  const kinds: DifferenceLine['kind'][] = [];
  let [i, j] = [0, 0];
  if (old.length * fresh.length <= mostPairs) {
    const common = new Uint32Array((old.length + 1) * width);
    const at = (row: number, column: number) => common[row * width + column] ?? 0;
    for (let row = old.length - 1; row >= 0; row--) {
      for (let column = fresh.length - 1; column >= 0; column--) {
        common[row * width + column] =
          old[row] === fresh[column]
            ? at(row + 1, column + 1) + 1
            : Math.max(at(row + 1, column), at(row, column + 1));
      }
    }
    while (i < old.length && j < fresh.length) {
      if (old[i] === fresh[j]) {
        kinds.push('same');
        i++;
        j++;
      } else if (at(i + 1, j) >= at(i, j + 1)) {
        kinds.push('gone');
        i++;
      } else {
        kinds.push('new');
        j++;
      }
    }
  }
  for (; i < old.length; i++) kinds.push('gone');
  for (; j < fresh.length; j++) kinds.push('new');
  return kinds;
}

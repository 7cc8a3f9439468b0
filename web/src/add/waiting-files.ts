/** Files that were handed over and not yet taken, so that a reload of the page loses none of them. */
import type { ReadOptionsView } from '../../../src/server/contract/index.ts';

export interface WaitingFile {
  readonly id: string;
  readonly options: ReadOptionsView;
}

const name = 'emberline-waiting-files';

/** What this window was about to take. */
export function waitingFiles(): WaitingFile[] {
  try {
    const kept: unknown = JSON.parse(window.sessionStorage.getItem(name) ?? '[]');
    return Array.isArray(kept) ? kept.filter(isWaiting) : [];
  } catch {
    return [];
  }
}

export function keepWaiting(files: readonly WaitingFile[]): void {
  try {
    window.sessionStorage.setItem(name, JSON.stringify(files));
  } catch {
    // A window without storage forgets them on reload; the files themselves are untouched.
  }
}

function isWaiting(value: unknown): value is WaitingFile {
  return (
    typeof value === 'object' &&
    value !== null &&
    'id' in value &&
    typeof value.id === 'string' &&
    'options' in value &&
    typeof value.options === 'object' &&
    value.options !== null
  );
}

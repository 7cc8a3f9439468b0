/**
 * Light and dark.
 *
 *   const { theme, figureTheme, change } = useTheme();
 *
 * `theme` is what is seen now: what the person chose, else what the system prefers. `change` takes the other.
 * `figureTheme` is for figures on the page: its colours are the page's own custom properties, so that a figure
 * changes with the page (and on paper) without being drawn again. For a file that leaves the page take
 * `savedTheme(theme)`, which has colours of its own.
 */
import { useSyncExternalStore } from 'react';
import { darkTheme, lightTheme, type Theme } from '../../../src/figure/index.ts';

export type ThemeName = Theme['name'];

const kept = 'emberline-theme';
const listeners = new Set<() => void>();
const dark = window.matchMedia('(prefers-color-scheme: dark)');

function chosen(): ThemeName | null {
  const word = document.documentElement.dataset['theme'];
  return word === 'light' || word === 'dark' ? word : null;
}

function current(): ThemeName {
  return chosen() ?? (dark.matches ? 'dark' : 'light');
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  dark.addEventListener('change', listener);
  return () => {
    listeners.delete(listener);
    dark.removeEventListener('change', listener);
  };
}

/** Puts the theme that was chosen on an earlier visit on the page: before the first drawing. */
export function restoreTheme(): void {
  try {
    const word = localStorage.getItem(kept);
    if (word === 'light' || word === 'dark') document.documentElement.dataset['theme'] = word;
  } catch {
    // Without storage the page follows the system.
  }
}

function changeTheme(): void {
  const next: ThemeName = current() === 'dark' ? 'light' : 'dark';
  document.documentElement.dataset['theme'] = next;
  try {
    localStorage.setItem(kept, next);
  } catch {
    // The choice then holds until the page is left.
  }
  for (const listener of listeners) listener();
}

const onThePage = {
  paper: 'var(--paper)',
  ink: 'var(--ink)',
  muted: 'var(--muted)',
  tie: 'var(--tie)',
  faint: 'var(--faint)',
  heat: 'var(--heat)',
  air: 'var(--air)',
  wash: 'var(--wash)',
  raised: 'var(--raised)',
} as const;

const figureThemes = {
  light: { name: 'light', ...onThePage },
  dark: { name: 'dark', ...onThePage },
} as const satisfies Record<ThemeName, Theme>;

/** Colours for a file, where the page's own do not reach. */
export function savedTheme(name: ThemeName): Theme {
  return name === 'dark' ? darkTheme : lightTheme;
}

export function useTheme(): { theme: ThemeName; figureTheme: Theme; change: () => void } {
  const theme = useSyncExternalStore(subscribe, current);
  return { theme, figureTheme: figureThemes[theme], change: changeTheme };
}

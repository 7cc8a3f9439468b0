/** What the address of a recording should have said when the page was left, kept for the next look at it. */

const kept = 'emberline-unwritten';

/** Keeps what belongs into the address of a place, until the place is opened again in this window. */
export function stash(pathname: string, search: string): void {
  try {
    sessionStorage.setItem(kept, `${pathname}?${search}`);
  } catch {
    // Without storage what was done in the last moment is lost.
  }
}

/** What was kept for the place that is open now; null where nothing was. */
export function stashed(): string | null {
  try {
    const [pathname, search] = (sessionStorage.getItem(kept) ?? '').split('?');
    return pathname === window.location.pathname ? (search ?? null) : null;
  } catch {
    return null;
  }
}

/** What was kept for this place has been taken up. */
export function forget(): void {
  if (stashed() !== null) sessionStorage.removeItem(kept);
}

/** Who decides, remembered from one decision to the next on this computer. */

const kept = 'emberline-who';

export function rememberedWho(): string {
  try {
    return localStorage.getItem(kept) ?? '';
  } catch {
    return '';
  }
}

export function rememberWho(who: string): void {
  try {
    localStorage.setItem(kept, who);
  } catch {
    // Without storage the name is asked for again.
  }
}

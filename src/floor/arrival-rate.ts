/** Arrivals are kept for so long, ms. */
const keptFor = 60_000;
/** A rate needs so long, ms, and so many arrivals: loggers write in bursts. */
const shortest = 10_000;
const fewest = 8;

/** How many readings a second arrive in a file, by the clock of the machine that follows it. */
export class ArrivalRate {
  #arrivals: { readonly at: number; readonly samples: number }[] = [];

  /** @param at our clock, ms, when the file had so many readings */
  add(at: number, samples: number): void {
    if (this.#arrivals.at(-1)?.at === at) return;
    this.#arrivals.push({ at, samples });
    while (at - (this.#arrivals[0]?.at ?? at) > keptFor) this.#arrivals.shift();
  }

  forget(): void {
    this.#arrivals = [];
  }

  /** Hz; null where it cannot be said yet. */
  get rate(): number | null {
    const first = this.#arrivals[0];
    const last = this.#arrivals.at(-1);
    if (first === undefined || last === undefined || this.#arrivals.length < fewest) return null;
    const lasted = last.at - first.at;
    return lasted < shortest ? null : ((last.samples - first.samples) / lasted) * 1000;
  }
}

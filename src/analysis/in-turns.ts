/** Does some work on many things, a few at a time. */
export async function inTurns<T>(
  things: readonly T[],
  atOnce: number,
  work: (thing: T) => Promise<void>,
): Promise<void> {
  let next = 0;
  const hand = async () => {
    while (next < things.length) {
      const thing = things[next++];
      if (thing !== undefined) await work(thing);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, hand));
}

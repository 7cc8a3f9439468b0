/**
 * A function of an object that never changes, with its last answer kept for as long as the object is in memory: marks
 * that move ask the same of the same recording again and again.
 *
 * @param work gives the same answer for the same arguments; what it answers is shared, and must not be changed
 * @returns the same function; it works only where the object, or any of the plain arguments, is another than last time
 */
export function remembered<
  Of extends object,
  Rest extends readonly (number | string | boolean | null)[],
  Answer,
>(work: (of: Of, ...rest: Rest) => Answer): (of: Of, ...rest: Rest) => Answer {
  const last = new WeakMap<Of, { readonly rest: Rest; readonly answer: Answer }>();
  return (of, ...rest) => {
    const known = last.get(of);
    if (known?.rest.every((argument, i) => Object.is(argument, rest[i]))) return known.answer;
    const answer = work(of, ...rest);
    last.set(of, { rest, answer });
    return answer;
  };
}

/** Major and minor number of the oldest Node that the command runs on; a test holds it equal to package.json. */
export const oldestNode = [20, 19] as const;

/**
 * What to say to whoever has too old a Node. Written, as main.ts is, so that a Node of any age reads it.
 *
 * @param running as Node gives it: 18.20.8
 * @returns null where it is new enough
 */
export function unfitNode(running: string): string | null {
  const [major = 0, minor = 0] = running.split('.').map(Number);
  const [oldestMajor, oldestMinor] = oldestNode;
  if (major > oldestMajor || (major === oldestMajor && minor >= oldestMinor)) return null;
  return `emberline: this needs Node ${oldestMajor}.${oldestMinor} or later, and here it runs on Node ${running}: install a newer Node and give the command again.`;
}

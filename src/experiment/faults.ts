import type { z } from 'zod';

/** What is wrong, and at which keys. */
export interface PlacedFault {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/** Words for what has the wrong kind, where the schema has none of its own. */
export function typeMessage(issue: z.core.$ZodRawIssue): string | undefined {
  if (issue.code !== 'invalid_type') return undefined;
  if (issue.input === undefined) return 'is missing; write it here';
  if (issue.input === null) return 'is empty; write what belongs to it, or leave it out';
  if (issue.expected === 'object' || issue.expected === 'record') {
    return 'has keys of its own: write them below it, indented, or as { key: value }';
  }
  return undefined;
}

/**
 * The faults behind an issue: one for each key that is not known, and for a choice those of the branch that was meant.
 *
 * @param issue of a schema
 */
export function issueFaults(issue: z.core.$ZodIssue): PlacedFault[] {
  const at = (key: PropertyKey, message: string) => ({ path: [...issue.path, key], message });
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => at(key, 'there is no such key here; look for a slip of the pen'));
  }
  if (issue.code === 'invalid_key') {
    return issue.issues.map(({ message }) => ({ path: issue.path, message }));
  }
  if (issue.code === 'invalid_union') {
    // The branch that got inside the value is the one that was meant.
    const meant = issue.errors.find((branch) => branch.some(isInside));
    if (meant !== undefined) {
      return meant.flatMap((inner) => {
        return issueFaults(inner).map(({ path, message }) => ({ path: [...issue.path, ...path], message }));
      });
    }
  }
  return [{ path: issue.path, message: issue.message }];
}

function isInside(issue: z.core.$ZodIssue): boolean {
  return issue.path.length > 0 || issue.code === 'unrecognized_keys';
}

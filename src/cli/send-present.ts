import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/** What became of a file that was sent. */
export interface Sent {
  readonly bytes: number;
  readonly sha256: string;
  /** Where it is on the server, from the experiment folder. */
  readonly path: string;
  /** Whether it was there before. */
  readonly again: boolean;
  /** Why it cannot be read by itself; null where it can. */
  readonly trouble: { readonly message: string; readonly mend: string } | null;
  /** What there is to look at. */
  readonly remarks: readonly {
    readonly code: string;
    readonly severity: string;
    readonly message: string;
    readonly action: string;
  }[];
}

/** For a person at a terminal. */
export function sentLines(file: string, { path, again, trouble, remarks }: Sent, ink: Ink): string[] {
  const done = again ? 'is there already as' : 'is there now as';
  return [
    `${ink.strong(printable(file))} ${done} ${printable(path)}`,
    ...(trouble === null ? [] : entry('not read', printable(`${trouble.message} ${trouble.mend}`))),
    ...remarks.flatMap(({ severity, code, message, action }) => {
      const [first = '', ...rest] = entry(printable(severity), printable(`${message} ${action} [${code}]`));
      return [first.replace(severity, ink.warm(severity)), ...rest];
    }),
  ];
}

/** For a program. */
export function sentAsJson(file: string, { path, again, bytes, sha256, trouble, remarks }: Sent) {
  return { file, path, again, bytes, sha256, readable: trouble === null, trouble, remarks };
}

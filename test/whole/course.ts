import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { expect } from 'vitest';

const program = resolve('dist', 'main.js');

/** What a command of the built program said, as a process of its own. */
export interface Said {
  readonly status: number;
  readonly out: string;
  readonly errors: string;
}

/**
 * Types a command.
 *
 * @param where folder that it is typed in
 */
export function type(where: string, ...words: readonly string[]): Promise<Said> {
  return new Promise((done) => {
    execFile(
      process.execPath,
      [program, ...words],
      { cwd: where, maxBuffer: 1 << 26 },
      (error, out, errors) => {
        const code = error === null ? 0 : typeof error.code === 'number' ? error.code : 2;
        done({ status: code, out, errors });
      },
    );
  });
}

/** The same, and what it said; fails where the command ends otherwise than was to be expected. */
export async function done(where: string, words: readonly string[], status = 0): Promise<string> {
  const said = await type(where, ...words);
  expect({ status: said.status, errors: said.errors }, words.join(' ')).toEqual({ status, errors: '' });
  return said.out;
}

/** The workbench over a folder, as `emberline serve` opens it. */
export interface Served {
  readonly address: string;
  close(): Promise<void>;
}

export async function serve(where: string, folder: string): Promise<Served> {
  const child = spawn(process.execPath, [program, 'serve', folder], { cwd: where });
  return { address: await addressOf(child), close: () => ended(child) };
}

function addressOf(child: ChildProcess): Promise<string> {
  return new Promise((found, failed) => {
    let said = '';
    const listen = (piece: unknown) => {
      said += String(piece);
      const [address] = /http:\/\/[\w.:]+/.exec(said) ?? [];
      if (address !== undefined) found(address);
    };
    child.stdout?.on('data', listen);
    child.stderr?.on('data', listen);
    child.once('exit', () => failed(new Error(`It ended:\n${said}`)));
  });
}

async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null) return;
  const exit = once(child, 'exit');
  child.kill('SIGINT');
  await exit;
}

/** Changes lines of a file that an instructor would change in an editor; each must be there. */
export async function edit(
  file: string,
  changes: readonly (readonly [from: string, to: string])[],
): Promise<void> {
  let text = await readFile(file, 'utf8');
  for (const [from, to] of changes) {
    expect(text).toContain(from);
    text = text.replace(from, to);
  }
  await writeFile(file, text);
}

/** Leaves out the rows of a sheet in which something stands. */
export async function withoutRows(file: string, what: RegExp): Promise<void> {
  const rows = (await readFile(file, 'utf8')).split('\n');
  await writeFile(file, rows.filter((row) => !what.test(row)).join('\n'));
}

/** A recording as its logger writes it: shares of its lines, the first with the header. */
export async function inShares(folder: string, path: string, ends: readonly number[]): Promise<string[]> {
  const lines = (await readFile(join(folder, path), 'utf8')).split(/(?<=\n)/);
  const places = [0, ...ends.map((end) => Math.round(end * lines.length))];
  return ends.map((_, i) => lines.slice(places[i], places[i + 1]).join(''));
}

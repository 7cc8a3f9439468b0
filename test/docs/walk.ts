import { readdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { vi } from 'vitest';
import { parse, parseDocument } from 'yaml';
import { type Block, blocksIn } from '../../scripts/docs/blocks.ts';
import { runCommand } from '../cli/run.ts';

/** Something that a page has its reader do: type commands, or write a file. */
export type Step =
  | {
      readonly kind: 'type';
      readonly name: string;
      readonly commands: readonly string[];
      /** What the page shows of the output; empty where it shows nothing. */
      readonly shown: readonly string[];
    }
  | { readonly kind: 'write'; readonly name: string; readonly file: string; readonly block: Block };

/** The steps of a page, in their order. */
export function stepsIn(page: string): Step[] {
  const blocks = blocksIn(page);
  return blocks.flatMap((block, place): Step[] => {
    const { language, file, lines } = block;
    if (file !== null) return [{ kind: 'write', name: `writes ${file}`, file, block }];
    if (language !== 'sh') return [];
    const next = blocks[place + 1];
    const shown = next?.language === '' ? next.lines : [];
    return [{ kind: 'type', name: lines.join('; '), commands: lines, shown }];
  });
}

/** The words of a command line as a shell parts them: quotes, and a star for the names of a folder. */
function wordsOf(line: string, root: string): string[] {
  const words = [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain ?? '');
  return words.flatMap((word) => {
    const placed = word.startsWith('tutorial/') ? join(root, word) : word;
    if (!placed.endsWith('/*.txt')) return [placed];
    const folder = dirname(placed);
    return readdirSync(folder)
      .sort()
      .map((name) => join(folder, name));
  });
}

/**
 * Lines that are shown and were not printed, in this order; between two of them others may stand, and an ellipsis
 * within a line stands for anything.
 *
 * @param root folder in place of that of the reader
 */
export function notPrinted(shown: readonly string[], printed: string, root: string): string[] {
  const lines = printed
    .replaceAll(`${root}/`, '')
    .split('\n')
    .map((line) => line.trimEnd());
  let from = 0;
  return shown.filter((line) => {
    if (line === '…' || line === '') return false;
    const asShown = new RegExp(`^${line.split('…').map(escaped).join('.*')}$`);
    const at = lines.findIndex((one, place) => place >= from && asShown.test(one));
    if (at < 0) return true;
    from = at + 1;
    return false;
  });
}

function escaped(text: string): string {
  return text.replaceAll(/[\\^$.*+?()[\]{}|]/g, '\\$&');
}

/** What came of commands: the statuses with which they ended, and all that they printed. */
export interface Typed {
  readonly statuses: readonly number[];
  readonly printed: string;
}

const printedBy = new Map<string, string>();

/** What an example prints; each is run once. */
async function exampleOutput(name: string): Promise<string> {
  const known = printedBy.get(name);
  if (known !== undefined) return known;
  const lines: string[] = [];
  const log = vi.spyOn(console, 'log').mockImplementation((line: string) => {
    lines.push(line);
  });
  try {
    await import(`../../examples/api/${name}.ts`);
  } finally {
    log.mockRestore();
  }
  const printed = `${lines.join('\n')}\n`;
  printedBy.set(name, printed);
  return printed;
}

/** Runs commands of a page, with a folder of its own in place of the reader's. */
export async function type(commands: readonly string[], root: string): Promise<Typed> {
  const statuses: number[] = [];
  let printed = '';
  for (const command of commands) {
    const example = /^npm run example -- ([\w-]+)$/.exec(command)?.[1];
    if (example !== undefined) {
      printed += await exampleOutput(example);
      statuses.push(0);
      continue;
    }
    const [npx, emberline, ...words] = wordsOf(command, root);
    if (npx !== 'npx' || emberline !== 'emberline') throw new Error(`${command} is no command of Emberline`);
    const { status, stdout, stderr } = await runCommand(words);
    statuses.push(status);
    printed += `${stdout}${stderr}`;
  }
  return { statuses, printed };
}

/** Writes a file that a page shows; of a YAML file, the keys that it shows in place of those that are there. */
export function write(file: string, { language, lines }: Block, root: string): void {
  const path = join(root, file);
  const text = `${lines.join('\n')}\n`;
  if (language !== 'yaml') {
    writeFileSync(path, text);
    return;
  }
  const document = parseDocument(readFileSync(path, 'utf8'));
  const keys: unknown = parse(text);
  for (const [key, value] of Object.entries(keys ?? {})) document.set(key, value);
  writeFileSync(path, document.toString());
}

/** Lets the files below a folder be an hour old, as after a session: what was just written may still grow. */
export function age(folder: string): void {
  const then = new Date(Date.now() - 3_600_000);
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
    utimesSync(join(folder, name), then, then);
  }
}

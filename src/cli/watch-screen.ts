import { emitKeypressEvents } from 'node:readline';
import type { TextOutput } from './terminal.ts';

const esc = '\u001b[';
/** Where a terminal does not say how high it is. */
const usualRows = 24;

/** A terminal that is drawn in place, on a page of its own: what stood there before comes back at the end. */
export class Screen {
  readonly #output: TextOutput;
  #shown = '';

  constructor(output: TextOutput) {
    this.#output = output;
    output.write(`${esc}?1049h${esc}?25l`);
  }

  /** Draws lines over those before, each to its end, so that nothing flickers. Those that find no room are left out. */
  draw(lines: readonly string[]): void {
    const rows = this.#output.rows ?? usualRows;
    const fitting = lines.length <= rows ? lines : [...lines.slice(0, rows - 1), '  …'];
    const text = `${esc}H${fitting.map((line) => `${line}${esc}K`).join('\r\n')}${esc}J`;
    if (text !== this.#shown) this.#output.write(text);
    this.#shown = text;
  }

  /** Resolves when somebody presses q or Ctrl-C; never where no keys can be read. */
  quit(): Promise<void> {
    const { stdin } = process;
    if (!stdin.isTTY) return new Promise(() => undefined);
    emitKeypressEvents(stdin);
    stdin.setRawMode(true);
    stdin.resume();
    return new Promise((resolve) => {
      stdin.on('keypress', (_text: string, key: { readonly name?: string; readonly ctrl?: boolean }) => {
        if (key.name === 'q' || (key.ctrl && key.name === 'c')) resolve();
      });
    });
  }

  close(): void {
    if (process.stdin.isTTY) {
      process.stdin.setRawMode(false);
      process.stdin.pause();
    }
    this.#output.write(`${esc}?25h${esc}?1049l`);
  }
}

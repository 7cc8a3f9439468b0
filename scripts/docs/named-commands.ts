import { readFileSync } from 'node:fs';
import type { Command } from 'commander';
import { z } from 'zod';
import { blocksIn, withoutBlocks } from './blocks.ts';
import type { Page } from './links.ts';
import { describedProgram } from './program.ts';

const packageSchema = z.object({ scripts: z.record(z.string(), z.string()) });

/** Everything that a page tells people to type and that is not there, each as a sentence. */
export function unknownCommands(pages: readonly Page[]): string[] {
  const { scripts } = packageSchema.parse(JSON.parse(readFileSync('package.json', 'utf8')));
  const program = describedProgram();
  return pages.flatMap(({ path, text }) => [
    ...unknownScripts(text, scripts).map(
      (name) => `${path} names npm run ${name}, which package.json lacks.`,
    ),
    ...typedLines(text).flatMap((line) => faultsOf(line, program).map((fault) => `${path}: ${fault}`)),
  ]);
}

function unknownScripts(text: string, scripts: Readonly<Record<string, string>>): string[] {
  const named = [...text.matchAll(/\bnpm run ([a-z][\w-]*)/g)].map(([, name = '']) => name);
  return named.filter((name) => !Object.hasOwn(scripts, name));
}

/** What stands in the type of programs, line by line; a line that goes on after a backslash is one. */
function typedLines(text: string): string[] {
  const inline = [...withoutBlocks(text).matchAll(/`([^`\n]+)`/g)];
  return [
    ...blocksIn(text).flatMap(({ lines }) =>
      lines
        .join('\n')
        .replaceAll(/\\\n\s*/g, '')
        .split('\n'),
    ),
    ...inline.map(([, code = '']) => code),
  ];
}

function faultsOf(line: string, program: Command): string[] {
  return [...line.matchAll(/(?:^|[\s`(])emberline ([a-z-][\w-]*)([^|;&#]*)/g)].flatMap(
    ([, first = '', rest = '']) => {
      if (first.startsWith('-')) return unknownOptions(`${first} ${rest}`, program, [program]);
      const command = program.commands.find((one) => one.name() === first);
      if (command === undefined) return [`there is no command emberline ${first}.`];
      return unknownOptions(rest, program, [command, program]);
    },
  );
}

function unknownOptions(typed: string, program: Command, known: readonly Command[]): string[] {
  const names = new Set(known.flatMap(({ options }) => options.flatMap(({ long }) => long ?? [])));
  const asked = [...typed.matchAll(/(?:^|\s)(--[a-z][\w-]*)/g)].map(([, option = '']) => option);
  const [command = program] = known;
  return asked
    .filter((option) => option !== '--help' && !names.has(option))
    .map((option) => `emberline ${command === program ? '' : `${command.name()} `}has no option ${option}.`);
}

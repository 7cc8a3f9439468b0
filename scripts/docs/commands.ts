import type { Argument, Command, Option } from 'commander';
import { block, code, page, table } from './markdown.ts';
import { describedProgram, wordsAfterHelp } from './program.ts';

/** The page of commands, as the program itself describes them. */
export function commandsPage(): string {
  const program = describedProgram();
  const { commands } = program;
  return page([
    '# Commands',
    `${program.description()} Every command explains itself in the same words: \`emberline <command> --help\`. In a checkout of the source, write \`npx emberline\`.`,
    table(
      ['command', 'does'],
      commands.map((command) => [
        `[${code(command.name())}](#emberline-${command.name()})`,
        command.summary(),
      ]),
    ),
    'Options of `emberline` itself:',
    optionTable([...program.options, ...helpOption(program)]),
    block(wordsAfterHelp(program)),
    ...commands.flatMap(commandParts),
  ]);
}

function commandParts(command: Command): string[] {
  const { registeredArguments: places, options } = command;
  return [
    `## emberline ${command.name()}`,
    command.description(),
    block(`emberline ${command.name()} ${command.usage()}`),
    ...(places.length === 0 ? [] : [argumentTable(places)]),
    ...optionParts(options),
    ...(wordsAfterHelp(command) === '' ? [] : [block(wordsAfterHelp(command))]),
  ];
}

function argumentTable(places: readonly Argument[]): string {
  return table(
    ['argument', 'needed', 'meaning'],
    places.map((place) => [
      code(`${place.name()}${place.variadic ? '...' : ''}`),
      place.required ? 'yes' : 'no',
      place.description,
    ]),
  );
}

/** One table a group of options, in the order in which they stand in the help. */
function optionParts(options: readonly Option[]): string[] {
  const shown = options.filter(({ hidden }) => !hidden);
  const headings = [...new Set(shown.map(({ helpGroupHeading }) => helpGroupHeading ?? ''))];
  return headings.flatMap((heading) => {
    const own = shown.filter(({ helpGroupHeading }) => (helpGroupHeading ?? '') === heading);
    return [...(heading === '' ? [] : [heading]), optionTable(own)];
  });
}

function optionTable(options: readonly Option[]): string {
  return table(
    ['option', 'meaning', 'one of', 'where left out'],
    options.map(({ flags, description, argChoices, defaultValue }) => [
      code(flags),
      description,
      (argChoices ?? []).map(code).join(' '),
      // An option that may stand several times begins with a list of none.
      defaultValue === undefined || String(defaultValue) === '' ? '' : code(String(defaultValue)),
    ]),
  );
}

/** The help of the program is no option of it to commander, but is one to people. */
function helpOption(program: Command): Option[] {
  return [...program.createHelp().visibleOptions(program)].filter(({ long }) => long === '--help');
}

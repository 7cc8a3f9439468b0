import { Command, CommanderError, Option } from 'commander';
import { version } from '../version.ts';
import { archiveCommand } from './archive-command.ts';
import { checkCommand } from './check-command.ts';
import { classCommand } from './class-command.ts';
import { compareCommand } from './compare-command.ts';
import { exportCommand } from './export-command.ts';
import { markCommand } from './mark-command.ts';
import { newCommand } from './new-command.ts';
import { planCommand } from './plan-command.ts';
import { practiceCommand } from './practice-command.ts';
import { predictCommand } from './predict-command.ts';
import { queryCommand } from './query-command.ts';
import { releaseCommand } from './release-command.ts';
import { reportCommand } from './report-command.ts';
import { rigCommand } from './rig-command.ts';
import { roomCommand } from './room-command.ts';
import { sendCommand } from './send-command.ts';
import { serveCommand } from './serve-command.ts';
import { type ExitStatus, printableLines, type Surroundings } from './terminal.ts';
import { verifyCommand } from './verify-command.ts';
import { watchCommand } from './watch-command.ts';
import type { AnalyzeOptions } from './wishes.ts';

const exitStatusHelp = (one: string) => `
Exit status:
  0  done
  1  done, but ${one}
  2  something could not be done`;

const analyzeExamples = `
Examples:
  A recording in degrees, everything found by itself:
    emberline analyze brass-12.txt

  Amplified type T voltage against an ice point, gain 200, zero 1.3 mV:
    emberline analyze run3.csv --thermocouple T --junction ice --gain 200 --zero "1.3 mV"

  A file without a time column, decimal commas, the second of three channels:
    emberline analyze run4.txt --rate "100 Hz" --decimal , --channel 2

  With the rig, the limits and the protocol of an experiment folder, with what people decided
  about its recordings (marks, how a file is read), and a picture:
    emberline analyze recordings/*.txt --experiment . --figure run.svg

  Many recordings, a line each:
    emberline analyze recordings/*.txt --experiment . --brief

  For a program: one JSON object a recording, one a line:
    emberline analyze recordings/*.txt --json > results.jsonl

Quantities carry their unit: "1.3 mV", "65 degF", "100 Hz", "0.2 K".
${exitStatusHelp('a recording must be repeated')}`;

/**
 * Runs the command line.
 *
 * @param words what stands behind the program's name
 * @returns the exit status; nothing is thrown
 */
export async function run(words: readonly string[], surroundings: Surroundings): Promise<ExitStatus> {
  let status: ExitStatus = 0;
  const program = emberlineProgram(surroundings, (reached) => {
    status = reached;
  });
  try {
    await program.parseAsync([...words], { from: 'user' });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    const message = error instanceof Error ? error.message : String(error);
    surroundings.stderr.write(`emberline: ${printableLines(message)}\n`);
    return 2;
  }
}

/**
 * All commands with their arguments, options and explanations.
 *
 * @param ended is told the exit status of the command that was run
 */
export function emberlineProgram(surroundings: Surroundings, ended: (status: ExitStatus) => void): Command {
  const program = new Command('emberline')
    .description('From a temperature recording to a time constant that can be defended.')
    .version(version, '--version', 'print the version')
    .helpOption('-h, --help', 'explain, with examples')
    .helpCommand(false)
    .configureOutput({
      writeOut: (text) => surroundings.stdout.write(text),
      // It says words again that somebody may have copied from elsewhere.
      writeErr: (text) => surroundings.stderr.write(printableLines(text)),
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    })
    .exitOverride()
    .showHelpAfterError('(emberline --help explains)')
    .addHelpText(
      'after',
      `\nEvery command explains itself: emberline analyze --help\n${exitStatusHelp('there is something to look at, such as a recording to repeat')}`,
    );
  analyzeCommand(program, async (paths, options) => {
    const { analyze } = await import('./analyze.ts');
    ended(await analyze(paths, options, surroundings));
  });
  newCommand(program, async (folder) => {
    const { newExperiment } = await import('./new-experiment.ts');
    ended(await newExperiment(folder, surroundings));
  });
  checkCommand(program, async (folder, options) => {
    const { checkFolder } = await import('./check-experiment.ts');
    ended(await checkFolder(folder, options, surroundings));
  });
  predictCommand(program, async (folder, options) => {
    const { predictConditions } = await import('./predict-conditions.ts');
    ended(await predictConditions(folder, options, surroundings));
  });
  planCommand(program, async (folder, options) => {
    const { planFolder } = await import('./plan-folder.ts');
    ended(await planFolder(folder, options, surroundings));
  });
  compareCommand(program, async (folder, recordings, options) => {
    const { compareFolder } = await import('./compare-folder.ts');
    ended(await compareFolder(folder, recordings, options, surroundings));
  });
  classCommand(program, async (folder, options) => {
    const { rollUpClass } = await import('./class-folder.ts');
    ended(await rollUpClass(folder, options, surroundings));
  });
  practiceCommand(program, async (folder, options) => {
    const { practice } = await import('./practice-folder.ts');
    ended(await practice(folder, options, surroundings));
  });
  reportCommand(program, async (folder, options) => {
    const { reportFolder } = await import('./report-folder.ts');
    ended(await reportFolder(folder, options, surroundings));
  });
  exportCommand(program, async (folder, options) => {
    const { exportFolder } = await import('./export-folder.ts');
    ended(await exportFolder(folder, options, surroundings));
  });
  queryCommand(program, async (words, options) => {
    const { queryFolders } = await import('./query-folder.ts');
    ended(await queryFolders(words, options, surroundings));
  });
  markCommand(program, async (folder, options) => {
    const { markFolder } = await import('./mark-folder.ts');
    ended(await markFolder(folder, options, surroundings, Date.now()));
  });
  rigCommand(program, async (folder, options) => {
    const { rigFolder } = await import('./rig-folder.ts');
    ended(await rigFolder(folder, options, surroundings, Date.now()));
  });
  watchCommand(program, async (folder, options) => {
    const { watchBenches } = await import('./watch-folder.ts');
    ended(await watchBenches(folder, options, surroundings, { now: () => Date.now() }));
  });
  roomCommand(program, async (folder, options) => {
    const { roomFolder } = await import('./room-folder.ts');
    ended(await roomFolder(folder, options, surroundings));
  });
  releaseCommand(program, async (folder, options) => {
    const { releaseResults } = await import('./release-folder.ts');
    ended(await releaseResults(folder, options, surroundings, Date.now()));
  });
  archiveCommand(program, async (folder, options) => {
    const { archive } = await import('./archive-folder.ts');
    const { askYes } = await import('./ask-yes.ts');
    ended(
      await archive(folder, options, surroundings, {
        now: () => Date.now(),
        ask: (question) =>
          askYes(question, surroundings.stderr, 'give --yes to remove them without a question'),
      }),
    );
  });
  verifyCommand(program, async (folder, options) => {
    const { verify } = await import('./verify-folder.ts');
    ended(await verify(folder, options, surroundings));
  });
  sendCommand(program, async (paths, options) => {
    const { sendFiles } = await import('./send-files.ts');
    ended(await sendFiles(paths, options, surroundings));
  });
  serveCommand(program, async (folder, options) => {
    const { serveFolder } = await import('./serve-folder.ts');
    ended(await serveFolder(folder, options, surroundings));
  });
  return program;
}

function analyzeCommand(
  program: Command,
  action: (paths: string[], options: AnalyzeOptions) => Promise<void>,
): void {
  const command = program
    .command('analyze')
    .summary('read recordings, find the cooling, report the time constant')
    .description(
      'Reads text recordings of any logger, finds baseline, heating and cooling, and reports the time ' +
        'constant with its uncertainty, what dominates it, whether one exponential describes the cooling, ' +
        'and whether the recording can be used.',
    )
    .argument('<recording...>', 'text files, gzipped or not')
    .addHelpText('after', analyzeExamples)
    .exitOverride()
    .showHelpAfterError('(emberline analyze --help explains)');

  command.optionsGroup('Reading the file (found by itself where not given):');
  command
    .option('--channel <name|number>', 'column that holds the sensor, by header name or counted from 1')
    .option('--unit <unit>', 'unit of that channel: V, mV, uV, degC, degF, K or ohm')
    .option('--rate <rate>', 'sampling rate, as "100 Hz", or spacing, as "10 ms"')
    .addOption(new Option('--decimal <mark>', 'decimal mark').choices(['.', ',']))
    .addOption(new Option('--thousands <mark>', 'thousands mark').choices([',', '.', ' ', "'"]))
    .addOption(
      new Option('--delimiter <mark>', 'what separates the columns').choices([
        'tab',
        'comma',
        'semicolon',
        'pipe',
        'space',
      ]),
    )
    .addOption(
      new Option('--encoding <name>', 'how the text is encoded').choices([
        'utf-8',
        'utf-16le',
        'utf-16be',
        'latin-1',
      ]),
    )
    .option('--time-column <name|number>', 'column that holds the time, or none')
    .option('--time-unit <unit>', 'unit of the time column: s, ms, us, min or h')
    .option('--part <number>', 'which part of a file in which the logger restarted, counted from 1');

  command.optionsGroup('From readings to degrees:');
  command
    .option(
      '--thermocouple <letter>',
      'B, E, J, K, N, R, S or T, for a channel that is a voltage; with --tolerance for one in degrees too',
    )
    .addOption(new Option('--resistance <sensor>', 'the channel is in ohm').choices(['Pt100', 'Pt1000']))
    .option(
      '--tolerance <class>',
      'tolerance class of the sensor: 1, 2 or 3 of a thermocouple; AA, A, B or C of a platinum sensor',
    )
    .option(
      '--junction <where>',
      'reference junction: "ice", a temperature as "22.5 degC", or a channel name',
    )
    .option('--gain <factor>', 'gain of the amplifier between junction and logger')
    .option('--zero <voltage>', 'what the logger shows with the amplifier input shorted, as "1.3 mV"')
    .option(
      '--zero-recording <file>',
      'a recording of that, a text or one of an archive, in place of --zero',
    );

  command.optionsGroup('The trial:');
  command
    .option('--experiment <folder>', 'take sensor, protocol, limits and decisions from there')
    .option('--body <code>', 'body of the experiment file whose limits apply')
    .option(
      '--ambient <temperature>',
      '"22.1 degC", "22.1 degC +- 0.2 K", or "fitted"; else from the baseline',
    )
    .option('--window <from:to>', 'error fractions of the classroom fits, as 0.9:0.1')
    .option('--heating <number>', 'which heating, counted from 1, where there are several')
    .option('--target <temperature>', 'temperature that the heating should reach')
    .option('--limit <temperature>', 'temperature that the body must not pass')
    .option('--end-fraction <fraction>', 'error fraction that the cooling should reach')
    .addOption(new Option('--mains <frequency>', 'mains frequency in Hz').choices(['50', '60']));

  command.optionsGroup('Results:');
  command
    .option('--figure <file>', 'draw trace and fit into a .svg or .png file')
    .option('--brief', 'a line a recording, and the codes of what is to be looked at')
    .option('--json', 'one JSON object a recording, one a line; times in s, temperatures in degrees Celsius')
    .action(action);
}

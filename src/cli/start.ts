import { run } from './program.ts';

/** Runs the command with the words and the streams of this process. */
export async function start(): Promise<void> {
  // A reader that has seen enough (`| head`) is no fault; a full disk is one.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    process.stderr.write(`emberline: the results could not be written: ${error.message}\n`);
    process.exit(2);
  });
  process.exitCode = await run(process.argv.slice(2), {
    stdout: process.stdout,
    stderr: process.stderr,
    environment: process.env,
  });
}

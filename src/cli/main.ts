import { runCommandLine } from './command-line.ts';

// A reader that closes the pipe early, such as head, ends the work quietly.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});

process.exitCode = await runCommandLine(process.argv.slice(2));

import type { Argv, Options } from 'yargs';
import type { RunContext } from '../model/context.ts';
import type { Talk } from './talk.ts';

/** What every command is run with. */
export interface Job {
  talk: Talk;
  context: RunContext;
}

/** Runs the body of a command with the shared options of `argv`; the body returns the exit code. */
export type Runner = (argv: object, body: (job: Job) => Promise<number>) => Promise<void>;

/** One command: its name, its own options and how it is added to the command line. */
export interface Command {
  name: string;
  options: Record<string, Options>;
  add(cli: Argv, run: Runner): Argv;
}

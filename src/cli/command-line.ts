import yargs, { type Argv } from 'yargs';
import { CamberwrightError } from '../error.ts';
import { TOOL } from '../results-head.ts';
import { adaptCommand } from './adapt.ts';
import type { Command, Runner } from './command.ts';
import { definitionsCommand } from './definitions.ts';
import { infoCommand } from './info.ts';
import { inspectCommand } from './inspect.ts';
import { openCommand } from './open.ts';
import { COMMON_OPTIONS, oneOf } from './options.ts';
import { PROGRESS_STYLES } from './progress.ts';
import { sampleCommand } from './sample.ts';
import { schemaCommand } from './schema.ts';
import { sectionsCommand } from './sections.ts';
import { stockCommand } from './stock.ts';
import { createTalk, type Talk, type TalkOptions } from './talk.ts';
import { usageError } from './usage-error.ts';

const COMMANDS: readonly Command[] = [
  infoCommand,
  inspectCommand,
  sectionsCommand,
  stockCommand,
  adaptCommand,
  sampleCommand,
  openCommand,
  schemaCommand,
  definitionsCommand,
];

const EXITS = `Exit codes:
  0 done, nothing failed         1 something failed       2 wrong usage or bad plan
  3 an input cannot be read      5 cannot be placed       70 fault in the tool     130 interrupted
  4 with --strict: something not proven or not measured`;

const INTERRUPTED = 130;

/** Joins a value such as -X or -3,5 to the option before it, which the parser would take for an option. */
function joinValues(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const arg of args) {
    const before = joined.at(-1);
    if (/^-(?:[XYxy]$|[\d.])/.test(arg) && before !== undefined && /^--[a-z-]+$/.test(before))
      joined[joined.length - 1] = `${before}=${arg}`;
    else joined.push(arg);
  }
  return joined;
}

/** Reads the shared options. @throws `usage/value` */
function talkOptions(argv: object): TalkOptions {
  const { json, quiet, verbose, progress, color } = argv as {
    json: boolean;
    quiet: boolean;
    verbose: boolean;
    progress: string;
    color: string | boolean;
  };
  const colour = color === false ? 'never' : color === true || color === '' ? 'always' : color;
  return {
    json,
    quiet,
    verbose,
    progress: oneOf('--progress', progress, PROGRESS_STYLES),
    color: oneOf('--color', colour, ['auto', 'always', 'never']),
  };
}

/** Any thrown value as an error with a code; what is not ours is a fault in the tool. */
function asError(thrown: unknown): CamberwrightError {
  if (thrown instanceof CamberwrightError) return thrown;
  const reason = thrown instanceof Error ? `${thrown.name}: ${thrown.message}` : String(thrown);
  const error = new CamberwrightError('fault/unexpected', `The tool stopped at a fault of its own: ${reason}`, {
    remedy: 'Run it again with --verbose and report what it prints.',
    cause: thrown,
  });
  if (thrown instanceof Error && thrown.stack !== undefined) error.stack = thrown.stack;
  return error;
}

/** Runs a body until it ends or Ctrl-C stops it; a second Ctrl-C ends the program at once. */
async function untilInterrupted(body: (signal: AbortSignal) => Promise<number>): Promise<number> {
  const controller = new AbortController();
  const stop = () => {
    if (controller.signal.aborted) process.exit(INTERRUPTED);
    controller.abort();
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
  try {
    return await body(controller.signal);
  } finally {
    process.off('SIGINT', stop);
    process.off('SIGTERM', stop);
  }
}

/** Runs the command line and returns its exit code. */
export async function runCommandLine(args: readonly string[]): Promise<number> {
  const quietTalk: TalkOptions = { json: false, quiet: false, verbose: false, progress: 'none', color: 'never' };
  const early = { ...quietTalk, json: args.includes('--json'), verbose: args.includes('--verbose') };
  let talk: Talk = createTalk(early, process.stdout, process.stderr);
  let code = 0;
  const run: Runner = async (argv, body) => {
    talk = createTalk(talkOptions(argv), process.stdout, process.stderr);
    code = await untilInterrupted((signal) => body({ talk, context: { signal, onProgress: talk.progress } }));
    talk.rest();
  };
  let cli: Argv = yargs()
    .scriptName('camberwright')
    .locale('en')
    .usage('$0 <command>\n\nInspects aerofoil sections and blade geometry.')
    .options(COMMON_OPTIONS)
    .group(Object.keys(COMMON_OPTIONS), 'Every command:')
    .demandCommand(1, 'Name a command.')
    .version(TOOL.version)
    .alias('help', 'h')
    .strict()
    .wrap(100)
    .epilogue(EXITS)
    .exitProcess(false)
    .fail((message: string | null, error: Error | undefined) => {
      throw message === null ? error : usageError(message, args, names, flagsOf(args));
    });
  for (const command of COMMANDS) cli = command.add(cli, run);
  try {
    await cli.parseAsync(joinValues(args));
  } catch (thrown) {
    const error = asError(thrown);
    talk.fail(error);
    if (talk.json) talk.print(JSON.stringify({ error: error.toRecord() }, null, 1));
    return error.exitCode;
  }
  return code;
}

const names = COMMANDS.map((command) => command.name);

function flagsOf(args: readonly string[]): string[] {
  const own = COMMANDS.find((command) => args.includes(command.name))?.options ?? {};
  return [...Object.keys(own), ...Object.keys(COMMON_OPTIONS), 'help', 'version'];
}

import type { CamberwrightError, Warning } from '../error.ts';
import type { Progress } from '../model/context.ts';
import type { Verdict } from '../model/results.ts';
import { createProgress, type ProgressStyle } from './progress.ts';

/** A stream to write to and whether it is a terminal. */
export interface Stream {
  write(text: string): unknown;
  isTTY?: boolean;
}

export interface TalkOptions {
  json: boolean;
  quiet: boolean;
  verbose: boolean;
  progress: ProgressStyle;
  color: 'auto' | 'always' | 'never';
}

/** Where a command speaks: data to stdout, everything else to stderr. */
export interface Talk {
  readonly json: boolean;
  readonly verbose: boolean;
  /** Data: text lines without --json, the one document with it. */
  print(text: string): void;
  /** Remark on stderr; silent with --quiet. */
  note(text: string): void;
  warn(warning: Warning): void;
  fail(error: CamberwrightError): void;
  progress(progress: Progress): void;
  /** Clears the progress line. */
  rest(): void;
  /** The text in the colour of a verdict, where colour is wanted; the words carry the meaning alone. */
  tint(text: string, verdict: Verdict): string;
}

const CODES: Partial<Record<Verdict, number>> = { fail: 31, pass: 32, 'not-proven': 33, 'not-measured': 33 };

/** True when colour may be written: the option first, then NO_COLOR, then the kind of stream. */
export function wantsColour(
  color: TalkOptions['color'],
  environment: Record<string, string | undefined>,
  terminal: boolean,
): boolean {
  if (color !== 'auto') return color === 'always';
  if (environment.NO_COLOR) return false;
  return terminal && environment.TERM !== 'dumb';
}

/** Lines of a finding: what, then code, place and remedy, each on its own line. */
export function findingText(
  kind: string,
  finding: { code: string; message: string; where: string | null; remedy: string | null },
): string {
  const lines = [`${kind}: ${finding.message}`, `  code    ${finding.code}`];
  if (finding.where !== null) lines.push(`  where   ${finding.where}`);
  if (finding.remedy !== null) lines.push(`  remedy  ${finding.remedy}`);
  return lines.join('\n');
}

export function createTalk(options: TalkOptions, stdout: Stream, stderr: Stream): Talk {
  const { json, quiet, verbose } = options;
  const coloured = !json && wantsColour(options.color, process.env, stdout.isTTY === true);
  const bar = createProgress(quiet ? 'none' : options.progress, stderr);
  const say = (text: string) => {
    bar.rest();
    stderr.write(`${text}\n`);
  };
  return {
    json,
    verbose,
    print: (text) => {
      bar.rest();
      stdout.write(text.endsWith('\n') ? text : `${text}\n`);
    },
    note: (text) => {
      if (!quiet) say(text);
    },
    warn: (warning) => {
      if (!quiet) say(findingText('warning', warning));
    },
    fail: (error) => {
      say(findingText('error', error));
      if (verbose && error.stack !== undefined) say(error.stack);
    },
    progress: bar.show,
    rest: bar.rest,
    tint: (text, verdict) => {
      const code = CODES[verdict];
      return coloured && code !== undefined ? `\u001b[${code}m${text}\u001b[0m` : text;
    },
  };
}

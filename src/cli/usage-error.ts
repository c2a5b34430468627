import { CamberwrightError } from '../error.ts';
import { nearestWord, wordDistance } from '../judge/nearest-word.ts';

/** Most letters a mistyped word may be off by and still be recognised. */
const NEAR = 3;

function hint(word: string, known: readonly string[], prefix: string): string | null {
  const nearest = nearestWord(word, known);
  if (nearest === null || wordDistance(word, nearest) > Math.min(NEAR, Math.ceil(nearest.length / 2))) return null;
  return `Did you mean "${prefix}${nearest}"?`;
}

/**
 * Returns the error for a command line that could not be understood, with the nearest known word.
 *
 * @param message text of the parser
 * @param args the command line
 * @param commands known commands
 * @param flags known options of the command given, without dashes
 */
export function usageError(
  message: string,
  args: readonly string[],
  commands: readonly string[],
  flags: readonly string[],
): CamberwrightError {
  const command = args.find((arg) => commands.includes(arg));
  const help = `See camberwright ${command === undefined ? '' : `${command} `}--help.`;
  const unknown = /^Unknown (?:argument|command)s?: ([^,]+)/.exec(message)?.[1];
  if (unknown === undefined) {
    const [, found, least] = /^Not enough non-option arguments: got (\d+), need at least (\d+)/.exec(message) ?? [];
    const first =
      least === undefined ? message.split('\n')[0] : `Too few arguments: ${found} given, at least ${least} needed.`;
    return new CamberwrightError('usage/arguments', first.endsWith('.') ? first : `${first}.`, { remedy: help });
  }
  const flag = args.find((arg) => arg.replace(/=.*$/s, '').replace(/^-+(no-)?/, '') === unknown && arg.startsWith('-'));
  if (flag !== undefined) {
    const written = flag.replace(/=.*$/s, '');
    return new CamberwrightError('usage/unknown-option', `There is no option ${written} here.`, {
      where: written,
      remedy: hint(unknown, flags, '--') ?? help,
    });
  }
  if (command === undefined) {
    return new CamberwrightError('usage/unknown-command', `There is no command "${unknown}".`, {
      where: unknown,
      remedy: hint(unknown, commands, 'camberwright ') ?? `Commands: ${commands.join(', ')}.`,
    });
  }
  return new CamberwrightError('usage/arguments', `"${unknown}" is one argument too many.`, {
    where: unknown,
    remedy: help,
  });
}

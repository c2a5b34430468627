/**
 * The one error class and the warning record. Both carry a code, the offending place, a cause and a remedy; the codes
 * and the exit codes they lead to are listed here and, for readers, in DEVELOPERS.md.
 */

/** Exit code of the command line for each family of errors (first part of the code). */
export const EXIT_OF_FAMILY = {
  /** Wrong usage, unknown setting, bad plan. */
  usage: 2,
  plan: 2,
  /** An input cannot be read. */
  load: 3,
  shape: 3,
  probe: 3,
  /** Read, but cannot be placed or related. */
  place: 5,
  relate: 5,
  /** A blank that cannot be reviewed or adapted. */
  stock: 5,
  /** Stopped by the user. */
  cancelled: 130,
  /** Fault in the tool. */
  fault: 70,
} as const;

export type ErrorFamily = keyof typeof EXIT_OF_FAMILY;
export type ErrorCode = `${ErrorFamily}/${string}` | 'cancelled';

/** A finding that does not stop the work; a value in the result, never printed by library code. */
export interface Warning {
  code: string;
  message: string;
  where: string | null;
  remedy: string | null;
}

export interface ErrorDetails {
  /** File, line, byte, section or point the error speaks of. */
  where?: string;
  /** What to do about it, in plain words. */
  remedy: string;
  cause?: unknown;
}

/** An input or request that cannot be worked with: what, where, why, and what to do. */
export class CamberwrightError extends Error {
  readonly code: ErrorCode;
  readonly where: string | null;
  readonly remedy: string;

  constructor(code: ErrorCode, message: string, details: ErrorDetails) {
    super(message, details.cause === undefined ? undefined : { cause: details.cause });
    this.name = 'CamberwrightError';
    this.code = code;
    this.where = details.where ?? null;
    this.remedy = details.remedy;
  }

  /** Exit code of the command line for this error. */
  get exitCode(): number {
    return EXIT_OF_FAMILY[this.code.split('/')[0] as ErrorFamily] ?? EXIT_OF_FAMILY.fault;
  }

  /** Plain record that survives structured clone and JSON. */
  toRecord(): { code: string; message: string; where: string | null; remedy: string } {
    return { code: this.code, message: this.message, where: this.where, remedy: this.remedy };
  }
}

/** The error thrown when the caller's signal is aborted. */
export function cancelled(): CamberwrightError {
  return new CamberwrightError('cancelled', 'Stopped before the end.', { remedy: 'Start again when ready.' });
}

export function warning(
  code: string,
  message: string,
  where: string | null = null,
  remedy: string | null = null,
): Warning {
  return { code, message, where, remedy };
}

import { CamberwrightError, type Warning, warning } from '../error.ts';
import type { LengthUnit, Shape } from '../model/shape.ts';
import type { ProbeNote } from './probe-note.ts';

/** What the caller knows of a file that the file itself may not say. */
export interface ReadOptions {
  /** Unit of the numbers where the file states none. */
  unit?: LengthUnit;
  /** Decimal mark of a text table where it cannot be told from the file. */
  decimal?: ',' | '.';
  expect?: 'any';
}

/** What a format's parser is given before the first byte. */
export interface FormatInput {
  name: string;
  /** Bytes of the file, null when unknown. */
  size: number | null;
  /** First bytes of the file (text: as UTF-8 without byte-order mark). */
  head: Uint8Array;
  /** True when `head` is the whole file. */
  complete: boolean;
  options: ReadOptions;
  /** The parser adds its findings here. */
  warnings: Warning[];
}

/** A shape in the file's own unit, with what the file says of itself. */
export interface ParsedShape {
  shape: Shape;
  /** Unit the file states, null when it states none. */
  unit: LengthUnit | null;
  /** Counts as found in the file. */
  points: number;
  triangles: number;
  /** What the file's comments say of probed points. */
  probe?: ProbeNote;
}

/** Takes the bytes of a file in pieces of any size; `end` returns the shape. Both throw `load/…` errors. */
export interface ByteSink {
  push(chunk: Uint8Array): void;
  end(): ParsedShape;
}

/** One file format. */
export interface Format {
  id: string;
  /** Name in plain words with the usual endings. */
  words: string;
  /** True when the first bytes are of this format; never looks at the file's name. */
  sniff(head: Uint8Array, size: number | null): boolean;
  parse(input: FormatInput): ByteSink;
}

/** Largest number of points or triangles taken in. */
export const MAX_COUNT = 2 ** 28;

/** Returns the error for a file that cannot be read; `place` is a line, byte or section inside the file. */
export function loadError(
  input: { name: string },
  code: `load/${string}`,
  message: string,
  place: string | null,
  remedy: string,
): CamberwrightError {
  return new CamberwrightError(code, message, {
    where: place === null ? input.name : `${input.name}, ${place}`,
    remedy,
  });
}

/** Adds a warning that names the file and the place inside it. */
export function warn(
  input: FormatInput,
  code: `load/${string}`,
  message: string,
  place: string | null,
  remedy: string,
): void {
  input.warnings.push(warning(code, message, place === null ? input.name : `${input.name}, ${place}`, remedy));
}

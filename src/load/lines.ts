import { type FormatInput, loadError } from './format.ts';

/** Called for each line, blank ones too, without its line end; `line` counts from 1. The bytes are valid during the call. */
export type LineHandler = (bytes: Uint8Array, from: number, to: number, line: number) => void;

/** Cuts bytes into lines at LF, CR LF or CR, whatever the chunk borders. */
export interface LineFeeder {
  push(chunk: Uint8Array): void;
  /** Hands out a last line that has no line end. */
  end(): void;
}

const LONGEST = 1 << 20;

/**
 * Returns a line cutter.
 *
 * @param firstLine number of the first line
 * @throws `load/format-unknown` at a line longer than 1 MiB
 */
export function lineFeeder(input: FormatInput, onLine: LineHandler, firstLine = 1): LineFeeder {
  let carry = new Uint8Array(256);
  let carried = 0;
  let line = firstLine;
  let afterReturn = false;

  function keep(chunk: Uint8Array, from: number, to: number): void {
    const length = carried + to - from;
    if (length > LONGEST) {
      const remedy = 'Check that the file is a text file with one point or facet line a row.';
      throw loadError(input, 'load/format-unknown', 'A line is longer than a million bytes.', `line ${line}`, remedy);
    }
    if (length > carry.length) {
      const wider = new Uint8Array(Math.max(length, 2 * carry.length));
      wider.set(carry.subarray(0, carried));
      carry = wider;
    }
    carry.set(chunk.subarray(from, to), carried);
    carried = length;
  }

  function push(chunk: Uint8Array): void {
    const end = chunk.length;
    let start = 0;
    for (let at = 0; at < end; at++) {
      const c = chunk[at];
      if (c !== 10 && c !== 13) {
        afterReturn = false;
        continue;
      }
      if (c === 10 && afterReturn) {
        afterReturn = false;
        start = at + 1;
        continue;
      }
      afterReturn = c === 13;
      if (carried > 0) {
        keep(chunk, start, at);
        onLine(carry, 0, carried, line);
        carried = 0;
      } else onLine(chunk, start, at, line);
      line++;
      start = at + 1;
    }
    if (start < end) keep(chunk, start, end);
  }

  function end(): void {
    if (carried > 0) onLine(carry, 0, carried, line);
    carried = 0;
  }

  return { push, end };
}

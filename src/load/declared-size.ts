import { type FormatInput, loadError, MAX_COUNT } from './format.ts';
import { tooLarge } from './stores.ts';

/** A file this many times shorter than its header says was never that long: the header is wrong. */
const ABSURD = 16;

/**
 * Checks a header's count against the file's size before anything is allocated.
 *
 * @param count rows declared, of the kind named by `rows`
 * @param bytes least number of bytes the whole file needs for them
 * @throws `load/absurd-count`, `load/truncated`, `load/too-large`
 */
export function checkDeclared(input: FormatInput, count: number, rows: string, bytes: number, place: string): void {
  const { size } = input;
  if (size !== null && bytes > size) {
    const message = `The header declares ${count} ${rows}, which need at least ${bytes} bytes; the file has ${size}.`;
    if (bytes > ABSURD * size) {
      throw loadError(input, 'load/absurd-count', message, place, 'The header is damaged: export the file again.');
    }
    throw loadError(input, 'load/truncated', message, place, 'Copy or export the file again; its end is missing.');
  }
  if (count > MAX_COUNT) throw tooLarge(input, count);
}

/** Returns how many rows to make room for at once: all when the size was checked, else a modest number. */
export function safeCapacity(input: FormatInput, count: number): number {
  return input.size === null ? Math.min(count, 65536) : count;
}

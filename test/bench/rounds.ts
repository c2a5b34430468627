import { cpus, loadavg } from 'node:os';

/** Middle, least and greatest of some times. */
export interface Spread {
  median: number;
  least: number;
  greatest: number;
}

export function spreadOf(times: number[]): Spread {
  const sorted = [...times].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const median = sorted.length % 2 === 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
  return { median, least: sorted[0], greatest: sorted[sorted.length - 1] };
}

/** Runs every entry once a round, in turn, so that a busy machine slows all of them; returns milliseconds by name. */
export async function interleave(
  entries: Record<string, () => void | Promise<void>>,
  rounds: number,
): Promise<Record<string, Spread>> {
  const times: Record<string, number[]> = {};
  for (let round = 0; round < rounds; round++) {
    for (const [name, act] of Object.entries(entries)) {
      const start = performance.now();
      await act();
      const took = performance.now() - start;
      times[name] = [...(times[name] ?? []), took];
    }
  }
  return Object.fromEntries(Object.entries(times).map(([name, list]) => [name, spreadOf(list)]));
}

/** One line a row, columns padded to equal width. */
export function table(rows: string[][]): string {
  const widths = rows[0].map((_, c) => Math.max(...rows.map((row) => row[c].length)));
  return rows
    .map((row) => row.map((cell, c) => (c === 0 ? cell.padEnd(widths[c]) : cell.padStart(widths[c]))).join('  '))
    .join('\n');
}

export function machine(): string {
  const list = cpus();
  return `${list[0]?.model.trim()}, ${list.length} threads, Node ${process.version}, load ${loadavg()[0].toFixed(2)}`;
}

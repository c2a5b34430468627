import { cancelled } from '../error.ts';

/** Where a long job stands. `done` and `total` count in the unit of the step (bytes, points, sections). */
export interface Progress {
  step: string;
  done: number;
  total: number;
}

/** What every long step takes from its caller: a signal that stops it and a listener for its progress. */
export interface RunContext {
  signal?: AbortSignal;
  onProgress?: (progress: Progress) => void;
}

/** Gives the event loop a turn, so that a cancel can arrive; @throws `cancelled` when it has. */
export async function breathe(context: RunContext): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, 0));
  throwIfCancelled(context);
}

/** @throws `cancelled` when the caller's signal is aborted. */
export function throwIfCancelled(context: RunContext): void {
  if (context.signal?.aborted) throw cancelled();
}

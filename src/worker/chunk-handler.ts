import { kernelNamed } from './chunk-kernels.ts';
import { buffersOf } from './chunk-memory.ts';
import type { FromChunkWorker, JobMessage, ToChunkWorker } from './chunk-messages.ts';

/** Points of one bite. */
export const CHUNK_SIZE = 8192;

/**
 * Returns the function that a worker calls for every message. It answers through `reply`, whose second argument lists
 * the buffers to hand over.
 */
export function createChunkHandler(
  reply: (message: FromChunkWorker, transfer: ArrayBuffer[]) => void,
): (message: ToChunkWorker) => void {
  let shared: unknown = null;
  return (message) => {
    if (message.kind === 'shared') {
      shared = message.data;
      return;
    }
    try {
      work(shared, message, (done) => reply({ kind: 'progress', job: message.job, done }, []));
      const out = message.cursor === null ? message.out : null;
      reply({ kind: 'done', job: message.job, out }, out === null ? [] : buffersOf(out));
    } catch (error) {
      reply({ kind: 'failed', job: message.job, message: error instanceof Error ? error.message : String(error) }, []);
    }
  };
}

function work(shared: unknown, message: JobMessage, onDone: (count: number) => void): void {
  const kernel = kernelNamed(message.kernel);
  const { points, order, out, cursor, to } = message;
  let from = message.from;
  for (;;) {
    if (cursor !== null) from = Atomics.add(cursor, 0, CHUNK_SIZE);
    if (from >= to) return;
    const end = Math.min(to, from + CHUNK_SIZE);
    kernel.run(shared, points, order, from, end, out);
    onDone(end - from);
    from = end;
  }
}

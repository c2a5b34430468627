import { CamberwrightError, cancelled } from '../error.ts';
import { breathe, type RunContext, throwIfCancelled } from '../model/context.ts';
import { CHUNK_SIZE } from './chunk-handler.ts';
import { type ChunkKernelName, type KernelOut, type KernelShared, kernelNamed } from './chunk-kernels.ts';
import { canShareMemory } from './chunk-memory.ts';
import type { FromChunkWorker, ToChunkWorker } from './chunk-messages.ts';
import { type JobPart, ownedParts, sharedParts, sharedTarget } from './chunk-parts.ts';

/** A thread, whatever the platform calls it. */
export interface ChunkWorker {
  post(message: unknown, transfer?: ArrayBuffer[]): void;
  onMessage(listener: (message: unknown) => void): void;
  /** Called when the thread dies of an error. */
  onError(listener: (reason: string) => void): void;
  terminate(): void;
}

/** One computation over points. */
export interface ChunkJob<Name extends ChunkKernelName> {
  kernel: Name;
  /** Data all points need. Asking again with the same record does not send it again. */
  shared: KernelShared<Name>;
  /** x0, y0, z0, x1, … (mm). */
  points: Float64Array;
  /** Order to visit the points in (see `mortonOrder`), or null. */
  order: Uint32Array | null;
  /** Results, written at the points' own places. */
  out: KernelOut<Name>;
  /** Name of the step for the progress listener. */
  step: string;
}

export interface ChunkPool {
  /** Number of threads; 0 and 1 mean that the calling thread works alone. */
  readonly count: number;
  /**
   * Fills `job.out`. The bits of the results do not depend on the number of threads. One job runs at a time.
   *
   * @throws `cancelled` when the signal is aborted (the threads are stopped at once), `fault/worker` when a thread dies.
   */
  run<Name extends ChunkKernelName>(job: ChunkJob<Name>, context?: RunContext): Promise<void>;
  /** Stops the threads. The pool can be used again and starts new ones then. */
  close(): void;
}

export interface ChunkPoolOptions {
  /** Share memory between threads; default: when the platform allows it. */
  shareMemory?: boolean;
}

/** Points up to which a job is done on the calling thread. */
const ALONE_UP_TO = 4 * CHUNK_SIZE;
/** Points between two turns of the event loop on the calling thread. */
const BREATHE_EVERY = 16 * CHUNK_SIZE;

/**
 * Returns a pool that splits jobs over `count` threads made by `spawn`. With shared memory the threads take bites of
 * 8,192 places off a common counter; without, each gets a contiguous part of the order as its own copy.
 */
export function createChunkPool(spawn: () => ChunkWorker, count: number, options: ChunkPoolOptions = {}): ChunkPool {
  const shareMemory = options.shareMemory ?? canShareMemory();
  let workers: ChunkWorker[] = [];
  let sent: unknown = null;
  let jobs = 0;
  let queue: Promise<unknown> = Promise.resolve();

  const close = () => {
    for (const worker of workers) worker.terminate();
    workers = [];
    sent = null;
  };

  const runOnThreads = async (job: ChunkJob<ChunkKernelName>, context: RunContext) => {
    if (workers.length === 0) workers = Array.from({ length: count }, spawn);
    if (sent !== job.shared) {
      const data = shareMemory ? sharedTarget(job.shared) : job.shared;
      for (const worker of workers) worker.post({ kind: 'shared', data } satisfies ToChunkWorker);
      sent = job.shared;
    }
    const parts = shareMemory ? sharedParts(job, ++jobs, count) : ownedParts(job, ++jobs, count);
    try {
      await finish(workers, parts, jobs, job, context);
    } catch (error) {
      close();
      throw error;
    }
  };

  const run = async (job: ChunkJob<ChunkKernelName>, context: RunContext) => {
    throwIfCancelled(context);
    if (count <= 1 || job.points.length / 3 <= ALONE_UP_TO) await runAlone(job, context);
    else await runOnThreads(job, context);
  };

  return {
    count,
    close,
    run: (job, context = {}) => {
      const turn = queue.then(() => run(job as unknown as ChunkJob<ChunkKernelName>, context));
      queue = turn.catch(() => {});
      return turn;
    },
  };
}

async function runAlone(job: ChunkJob<ChunkKernelName>, context: RunContext): Promise<void> {
  const kernel = kernelNamed(job.kernel);
  const total = job.points.length / 3;
  for (let from = 0; from < total; from += BREATHE_EVERY) {
    if (from > 0) await breathe(context);
    const to = Math.min(total, from + BREATHE_EVERY);
    kernel.run(job.shared, job.points, job.order, from, to, job.out);
    context.onProgress?.({ step: job.step, done: to, total });
  }
}

/** Starts the parts, one a worker, and waits for all of them. */
function finish(
  workers: ChunkWorker[],
  parts: JobPart[],
  number: number,
  job: ChunkJob<ChunkKernelName>,
  context: RunContext,
): Promise<void> {
  const total = job.points.length / 3;
  return new Promise((resolve, reject) => {
    let open = parts.length;
    let done = 0;
    const stop = () => reject(cancelled());
    const settle = (act: () => void) => {
      context.signal?.removeEventListener('abort', stop);
      act();
    };
    context.signal?.addEventListener('abort', stop);
    parts.forEach((part, i) => {
      workers[i].onError((reason) => settle(() => reject(died(reason))));
      workers[i].onMessage((data) => {
        const message = data as FromChunkWorker;
        if (message.job !== number) return;
        if (message.kind === 'progress') {
          done += message.done;
          context.onProgress?.({ step: job.step, done, total });
        } else if (message.kind === 'failed') {
          settle(() => reject(died(message.message)));
        } else {
          part.collect(message.out);
          if (--open === 0) settle(resolve);
        }
      });
      workers[i].post(part.message, part.transfer);
    });
  });
}

function died(reason: string): CamberwrightError {
  return new CamberwrightError('fault/worker', `A worker thread stopped: ${reason}`, {
    remedy: 'Try again with one thread.',
  });
}

import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { FromChunkWorker } from '../worker/chunk-messages.ts';
import { type ChunkPool, type ChunkPoolOptions, type ChunkWorker, createChunkPool } from '../worker/chunk-pool.ts';

export interface NodeChunkPoolOptions extends ChunkPoolOptions {
  /** Built worker program; default: `relate-worker.js` beside this module or one folder up. */
  program?: URL;
}

/** Returns a pool of worker threads; one a processor unless `count` says otherwise. */
export function createNodeChunkPool(count = availableParallelism(), options: NodeChunkPoolOptions = {}): ChunkPool {
  return createChunkPool(() => spawn(options.program ?? builtProgram()), count, options);
}

function builtProgram(): URL {
  const beside = new URL('./relate-worker.js', import.meta.url);
  return existsSync(beside) ? beside : new URL('../relate-worker.js', import.meta.url);
}

function spawn(program: URL): ChunkWorker {
  const worker = new Worker(program);
  worker.unref();
  return {
    // Only a thread at work keeps the program alive.
    post: (message, transfer = []) => {
      worker.ref();
      worker.postMessage(message, transfer);
    },
    onMessage: (listener) => {
      worker.removeAllListeners('message');
      worker.on('message', (message: FromChunkWorker) => {
        if (message.kind !== 'progress') worker.unref();
        listener(message);
      });
    },
    onError: (listener) => {
      worker.removeAllListeners('error');
      worker.on('error', (error: Error) => listener(error.message));
    },
    terminate: () => {
      void worker.terminate();
    },
  };
}

import { type ChunkPool, type ChunkPoolOptions, type ChunkWorker, createChunkPool } from './chunk-pool.ts';

/** What this module needs of a page's worker. */
interface PageWorker {
  onmessage: ((event: { data: unknown }) => void) | null;
  onerror: ((event: { message: string }) => void) | null;
  postMessage(message: unknown, transfer: ArrayBuffer[]): void;
  terminate(): void;
}

declare const Worker: new (url: URL, options: { type: 'module' }) => PageWorker;
declare const navigator: { hardwareConcurrency?: number };

/** Returns a pool of module workers in a page or in a worker; one thread a processor unless `count` says otherwise. */
export function createBrowserChunkPool(
  count = navigator.hardwareConcurrency ?? 1,
  options: ChunkPoolOptions = {},
): ChunkPool {
  return createChunkPool(spawn, count, options);
}

function spawn(): ChunkWorker {
  const worker = new Worker(new URL('./chunk-worker.ts', import.meta.url), { type: 'module' });
  return {
    post: (message, transfer = []) => worker.postMessage(message, transfer),
    onMessage: (listener) => {
      worker.onmessage = (event) => listener(event.data);
    },
    onError: (listener) => {
      worker.onerror = (event) => listener(event.message);
    },
    terminate: () => worker.terminate(),
  };
}

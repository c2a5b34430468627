import { createChunkHandler } from './chunk-handler.ts';
import type { ToChunkWorker } from './chunk-messages.ts';

/** What this module needs of the worker's global object. */
interface WorkerScope {
  onmessage: ((event: { data: ToChunkWorker }) => void) | null;
  postMessage(message: unknown, transfer: ArrayBuffer[]): void;
}

const scope = globalThis as unknown as WorkerScope;
const handle = createChunkHandler((message, transfer) => scope.postMessage(message, transfer));
scope.onmessage = (event) => handle(event.data);

import { parentPort } from 'node:worker_threads';
import { createChunkHandler } from '../worker/chunk-handler.ts';

const port = parentPort;
if (port !== null) {
  port.on(
    'message',
    createChunkHandler((message, transfer) => port.postMessage(message, transfer)),
  );
}

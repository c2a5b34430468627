import { createClient, type WorkerClient, type WorkerLike } from '../../src/worker/client.ts';

/** Client over the app's own worker; it starts with the first job. */
export function workerClient(): WorkerClient {
  return createClient(
    () =>
      new Worker(new URL('../../src/worker/main-worker.ts', import.meta.url), {
        type: 'module',
      }) as unknown as WorkerLike,
  );
}

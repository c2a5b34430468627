import { Worker } from 'node:worker_threads';
import type { JobName, Result, Task } from './jobs.ts';
import type { Ordered } from './worker.ts';

const THREADS = 2;
/** Time between two lines of progress (ms). */
const PROGRESS = 20_000;

/** Returns the results of tasks in their order, done by worker threads one after the other. */
export async function inWorkers<K extends JobName>(job: K, tasks: readonly Task<K>[]): Promise<Result<K>[]> {
  const results: Result<K>[] = [];
  let next = 0;
  let done = 0;
  const start = Date.now();
  let said = start;
  const work = async (): Promise<void> => {
    const worker = new Worker(new URL('./accuracy-worker.js', import.meta.url));
    try {
      while (next < tasks.length) {
        const index = next++;
        results[index] = await answer<Result<K>>(worker, { job, task: tasks[index] });
        done++;
        const now = Date.now();
        if (now - said < PROGRESS) continue;
        said = now;
        process.stderr.write(`${job}: ${done} of ${tasks.length} tasks, ${Math.round((now - start) / 1000)} s\n`);
      }
    } finally {
      await worker.terminate();
    }
  };
  await Promise.all(Array.from({ length: Math.min(THREADS, tasks.length) }, work));
  return results;
}

function answer<R>(worker: Worker, message: Ordered): Promise<R> {
  return new Promise((resolve, reject) => {
    worker.removeAllListeners();
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', (code) => reject(new Error(`A worker thread ended with code ${code}.`)));
    worker.postMessage(message);
  });
}

import { parentPort } from 'node:worker_threads';
import { JOBS, type JobName } from './jobs.ts';

/** Worker thread of the accuracy lane: does one task a message. */

export interface Ordered {
  job: JobName;
  task: unknown;
}

parentPort?.on('message', async ({ job, task }: Ordered) => {
  parentPort?.postMessage(await (JOBS[job] as (task: unknown) => unknown)(task));
});

import type { PipelineContext } from '../pipeline.ts';
import { threadedFeet } from '../worker/threaded-feet.ts';
import type { Job } from './command.ts';
import { createNodeChunkPool } from './node-chunk-pool.ts';

/** Runs work with the finder of feet on a number of threads, and stops the threads afterwards. */
export async function withThreads<T>(
  count: number,
  job: Job,
  work: (context: PipelineContext) => Promise<T>,
): Promise<T> {
  if (count <= 1) return work(job.context);
  const pool = createNodeChunkPool(count);
  try {
    return await work({ ...job.context, finder: threadedFeet(pool) });
  } finally {
    pool.close();
  }
}

import type { ChunkKernelName } from './chunk-kernels.ts';

/** Data that all jobs up to the next such message read. */
export interface SharedMessage {
  kind: 'shared';
  data: unknown;
}

/** Work for one worker: places `from` to `to` of the order, or all that the cursor still gives. */
export interface JobMessage {
  kind: 'job';
  job: number;
  kernel: ChunkKernelName;
  points: Float64Array;
  order: Uint32Array | null;
  out: object;
  from: number;
  to: number;
  /** Next free place, taken by atomic addition, when the memory is shared; null: the range is this worker's own. */
  cursor: Int32Array | null;
}

export type ToChunkWorker = SharedMessage | JobMessage;

/** Points done since the last message. */
export interface DoneSome {
  kind: 'progress';
  job: number;
  done: number;
}

/** The worker has no more to do; carries the results when the memory is not shared. */
export interface DoneAll {
  kind: 'done';
  job: number;
  out: object | null;
}

/** The kernel failed. */
export interface Failed {
  kind: 'failed';
  job: number;
  message: string;
}

export type FromChunkWorker = DoneSome | DoneAll | Failed;

import type { ChunkKernelName } from './chunk-kernels.ts';
import { buffersOf, copyBack, onSharedMemory, roomForPart, scatterBack, sharedRoomFor } from './chunk-memory.ts';
import type { JobMessage } from './chunk-messages.ts';
import type { ChunkJob } from './chunk-pool.ts';

/** What one worker gets, and what to do with its answer. */
export interface JobPart {
  message: JobMessage;
  transfer: ArrayBuffer[];
  collect(out: object | null): void;
}

/** Shared copies of data already moved, so that a second pool or job does not copy it again. */
const moved = new WeakMap<object, object>();

/** Returns the data on shared memory; the same record gives the same copy. */
export function sharedTarget(data: object): object {
  let copy = moved.get(data);
  if (copy === undefined) {
    copy = onSharedMemory(data);
    moved.set(data, copy);
  }
  return copy;
}

/** Parts that all read and write the same memory and take their bites off one counter. */
export function sharedParts(job: ChunkJob<ChunkKernelName>, number: number, count: number): JobPart[] {
  const out = sharedRoomFor(job.out);
  const message: JobMessage = {
    kind: 'job',
    job: number,
    kernel: job.kernel,
    points: onSharedMemory(job.points),
    order: onSharedMemory(job.order),
    out,
    from: 0,
    to: job.points.length / 3,
    cursor: new Int32Array(new SharedArrayBuffer(4)),
  };
  let open = count;
  const collect = () => {
    if (--open === 0) copyBack(out, job.out);
  };
  return Array.from({ length: count }, () => ({ message, transfer: [], collect }));
}

/** Parts that are each a worker's own: contiguous ranges of the order, copied and handed over. */
export function ownedParts(job: ChunkJob<ChunkKernelName>, number: number, count: number): JobPart[] {
  const total = job.points.length / 3;
  return Array.from({ length: count }, (_, w) => {
    const first = Math.floor((total * w) / count);
    const size = Math.floor((total * (w + 1)) / count) - first;
    const points = gather(job.points, job.order, first, size);
    const out = roomForPart(job.out, size, total);
    return {
      message: {
        kind: 'job',
        job: number,
        kernel: job.kernel,
        points,
        order: null,
        out,
        from: 0,
        to: size,
        cursor: null,
      },
      transfer: [points.buffer, ...buffersOf(out)],
      collect: (answer) => scatterBack(answer as object, job.out, job.order, first, total),
    };
  });
}

/** Copies the points at places `first` … `first + size − 1` of the order. */
function gather(
  points: Float64Array,
  order: Uint32Array | null,
  first: number,
  size: number,
): Float64Array<ArrayBuffer> {
  if (order === null) return Float64Array.from(points.subarray(3 * first, 3 * (first + size)));
  const part = new Float64Array(3 * size);
  for (let k = 0; k < size; k++) {
    const i = 3 * order[first + k];
    part[3 * k] = points[i];
    part[3 * k + 1] = points[i + 1];
    part[3 * k + 2] = points[i + 2];
  }
  return part;
}

import { CamberwrightError } from '../error.ts';
import type { Progress, RunContext } from '../model/context.ts';
import type { Failure, FromWorker, JobName, Jobs, ToWorker } from './messages.ts';

/** Least time between two progress messages of one job (ms). */
const PROGRESS_EVERY_MS = 60;

export type Handlers = {
  [K in JobName]: (ask: Jobs[K]['ask'], context: RunContext) => Promise<Jobs[K]['reply']>;
};

/** Any thrown value as the record the page shows; what is not ours is a fault in the tool. */
export function failureOf(error: unknown): Failure {
  if (error instanceof CamberwrightError) return error.toRecord();
  const text = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  const memory = error instanceof RangeError && /alloc|length|memory/i.test(error.message);
  return memory
    ? {
        code: 'fault/memory',
        message: 'This computer ran out of memory for the file.',
        where: text,
        remedy: 'Close other programs or use a file with fewer points.',
      }
    : {
        code: 'fault/unexpected',
        message: 'The tool stopped at a fault of its own.',
        where: text,
        remedy: 'Try again; if it happens again, report it with these details.',
      };
}

/**
 * Returns the function that takes the page's messages. Each job runs with its own signal; progress is throttled, but a
 * new step and the end of a step always go out.
 * @param post sends a message to the page; the second argument lists buffers to hand over
 * @param buffers buffers of a reply that are handed over instead of copied
 */
export function createDispatch(
  handlers: Handlers,
  post: (message: FromWorker, transfer: ArrayBuffer[]) => void,
  buffers: (reply: Jobs[JobName]['reply']) => ArrayBuffer[],
  now: () => number = () => performance.now(),
): (message: ToWorker) => void {
  const running = new Map<number, AbortController>();

  function throttled(job: number): (progress: Progress) => void {
    let last = -Infinity;
    let step = '';
    return (progress) => {
      const time = now();
      if (progress.step === step && time - last < PROGRESS_EVERY_MS && progress.done < progress.total) return;
      last = time;
      step = progress.step;
      post({ kind: 'progress', job, progress }, []);
    };
  }

  async function run<K extends JobName>(job: number, name: K, ask: Jobs[K]['ask']): Promise<void> {
    const controller = new AbortController();
    running.set(job, controller);
    try {
      const reply = await handlers[name](ask, { signal: controller.signal, onProgress: throttled(job) });
      post({ kind: 'done', job, reply }, buffers(reply));
    } catch (error) {
      post({ kind: 'failed', job, failure: failureOf(error) }, []);
    } finally {
      running.delete(job);
    }
  }

  return (message) => {
    if (message.kind === 'cancel') running.get(message.job)?.abort();
    else void run(message.job, message.name, message.ask);
  };
}

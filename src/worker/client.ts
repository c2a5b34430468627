import type { AdaptMethod } from '../adapt-blank.ts';
import type { ErrorCode } from '../error.ts';
import { CamberwrightError, cancelled } from '../error.ts';
import type { DefinitionsByPath } from '../judge/definition-info.ts';
import type { Progress, RunContext } from '../model/context.ts';
import type { PlanDefinition } from '../model/plan.ts';
import type { Results } from '../model/results.ts';
import type { MeasuredOne, MeasureOne } from '../redefine.ts';
import type {
  AdaptReply,
  BlankReply,
  Failure,
  FileHandle,
  FromWorker,
  InspectReply,
  InspectRequest,
  JobName,
  Jobs,
  PlaceBlankRequest,
  PlanSummary,
  SampleReply,
  ShapeHandle,
  ShapeSummary,
  ToWorker,
} from './messages.ts';

/** The part of a Worker the client needs. */
export interface WorkerLike {
  postMessage(message: ToWorker): void;
  terminate(): void;
  onmessage: ((event: { data: FromWorker }) => void) | null;
  onerror: ((event: { message?: string }) => void) | null;
}

/** The core's own functions, run in a worker: same names, same records, same errors. */
export interface WorkerClient {
  check(file: ShapeHandle, context?: RunContext): Promise<ShapeSummary>;
  checkPlan(file: FileHandle, context?: RunContext): Promise<PlanSummary>;
  inspect(request: InspectRequest, context?: RunContext): Promise<InspectReply>;
  /** The definitions every quantity of the catalogue may be measured by. */
  definitions(context?: RunContext): Promise<{ byOf: DefinitionsByPath }>;
  /** One quantity of the last inspection by a chosen definition; `usage/not-inspected` when there is none. */
  measure(request: MeasureOne, context?: RunContext): Promise<MeasuredOne>;
  /** The last inspection with other definitions; `usage/not-inspected` when there is none. */
  redefine(request: { definitions: PlanDefinition[] }, context?: RunContext): Promise<{ results: Results }>;
  /** Stock of a blank against the finished blade. */
  reviewBlank(request: InspectRequest, context?: RunContext): Promise<BlankReply>;
  /** The last blank in another placement; `usage/not-reviewed` when there is none. */
  placeBlank(request: PlaceBlankRequest, context?: RunContext): Promise<BlankReply>;
  /** The finished blade adapted to the last blank; `usage/not-reviewed` when there is none. */
  adaptBlank(date: string, method: AdaptMethod, context?: RunContext): Promise<AdaptReply>;
  sample(part: 'finished' | 'blank', context?: RunContext): Promise<SampleReply>;
  /** Drops shapes kept in the worker's memory. */
  forget(keys: string[]): Promise<null>;
  /** Ends the worker and refuses what is waiting. */
  close(): void;
}

/** How long a job may take to stop by itself before its worker is ended (ms). */
const CANCEL_GRACE_MS = 250;

interface Waiting {
  name: JobName;
  ask: Jobs[JobName]['ask'];
  context: RunContext;
  resolve: (reply: never) => void;
  reject: (error: CamberwrightError) => void;
}

function toError(failure: Failure): CamberwrightError {
  const details =
    failure.where === null ? { remedy: failure.remedy } : { remedy: failure.remedy, where: failure.where };
  return new CamberwrightError(failure.code as ErrorCode, failure.message, details);
}

/**
 * Returns a client that runs one job at a time, in the order asked. An aborted job is first asked to stop; when it has
 * not stopped after `graceMs` its worker is ended and a new one takes the jobs that wait, so a cancel always holds.
 */
export function createClient(spawn: () => WorkerLike, graceMs: number = CANCEL_GRACE_MS): WorkerClient {
  let worker: WorkerLike | null = null;
  let counter = 0;
  let active: { id: number; job: Waiting; stop: () => void } | null = null;
  const queue: Waiting[] = [];

  function finish(settle: (job: Waiting) => void): void {
    const done = active;
    if (!done) return;
    active = null;
    done.stop();
    settle(done.job);
    next();
  }

  function replaceWorker(): void {
    if (!worker) return;
    worker.onmessage = null;
    worker.onerror = null;
    worker.terminate();
    worker = null;
  }

  function ready(): WorkerLike {
    if (worker) return worker;
    const made = spawn();
    made.onmessage = ({ data }) => {
      if (data.kind === 'ready' || data.job !== active?.id) return;
      if (data.kind === 'progress') active.job.context.onProgress?.(data.progress satisfies Progress);
      else if (data.kind === 'done') finish((job) => job.resolve(data.reply as never));
      else finish((job) => job.reject(toError(data.failure)));
    };
    made.onerror = (event) => {
      replaceWorker();
      finish((job) =>
        job.reject(
          new CamberwrightError('fault/worker', 'The part of the tool that computes could not run.', {
            where: event.message ?? 'worker',
            remedy: 'Reload the page; if it happens again, report it with these details.',
          }),
        ),
      );
    };
    worker = made;
    return made;
  }

  function next(): void {
    if (active) return;
    const job = queue.shift();
    if (!job) return;
    if (job.context.signal?.aborted) {
      job.reject(cancelled());
      next();
      return;
    }
    const id = ++counter;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const onAbort = (): void => {
      worker?.postMessage({ kind: 'cancel', job: id });
      timer = setTimeout(() => {
        replaceWorker();
        finish((stopped) => stopped.reject(cancelled()));
      }, graceMs);
    };
    job.context.signal?.addEventListener('abort', onAbort, { once: true });
    active = {
      id,
      job,
      stop: () => {
        clearTimeout(timer);
        job.context.signal?.removeEventListener('abort', onAbort);
      },
    };
    ready().postMessage({ kind: 'start', job: id, name: job.name, ask: job.ask } as ToWorker);
  }

  function ask<K extends JobName>(
    name: K,
    request: Jobs[K]['ask'],
    context: RunContext = {},
  ): Promise<Jobs[K]['reply']> {
    return new Promise((resolve, reject) => {
      const job: Waiting = { name, ask: request, context, resolve: resolve as (reply: never) => void, reject };
      queue.push(job);
      context.signal?.addEventListener(
        'abort',
        () => {
          const at = queue.indexOf(job);
          if (at < 0) return;
          queue.splice(at, 1);
          reject(cancelled());
        },
        { once: true },
      );
      next();
    });
  }

  return {
    check: (file, context) => ask('check', file, context),
    checkPlan: (file, context) => ask('checkPlan', file, context),
    inspect: (request, context) => ask('inspect', request, context),
    definitions: (context) => ask('definitions', {}, context),
    measure: (request, context) => ask('measure', request, context),
    redefine: (request, context) => ask('redefine', request, context),
    reviewBlank: (request, context) => ask('reviewBlank', request, context),
    placeBlank: (request, context) => ask('placeBlank', request, context),
    adaptBlank: (date, method, context) => ask('adaptBlank', { date, method }, context),
    sample: (part, context) => ask('sample', { part }, context),
    forget: (keys) => ask('forget', { keys }),
    close: () => {
      replaceWorker();
      finish((job) => job.reject(cancelled()));
      for (const job of queue.splice(0)) job.reject(cancelled());
    },
  };
}

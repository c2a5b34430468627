import { CamberwrightError } from '../../src/error.ts';
import type { LengthUnit } from '../../src/model/shape.ts';
import type { WorkerClient } from '../../src/worker/client.ts';
import type { Truth } from '../../src/worker/messages.ts';
import {
  type AppState,
  addFile,
  changeFile,
  chooseUnit,
  type FileEntry,
  filesOf,
  handleOf,
  inspectRequest,
  jobCancelled,
  jobDone,
  jobFailed,
  jobProgress,
  jobStarted,
  markStale,
  obstacle,
  type Role,
  removeFile,
  startPose,
} from './app-state.ts';
import { failureFrom } from './failure.ts';
import type { Store } from './store.ts';

/** A file offered by the user, the example or the command line. */
interface Offered {
  name: string;
  blob: Blob;
  role?: Role;
  unit?: LengthUnit;
}

/** What the pages can ask for; every long step runs in the worker and can be stopped. */
export interface Session {
  offer(files: Offered[], role?: Role): void;
  remove(key: string): void;
  stopReading(key: string): void;
  unit(key: string, unit: LengthUnit): void;
  measure(): Promise<void>;
  stop(): void;
  /** Opens the example and measures it. */
  example(): Promise<void>;
  /** Opens the example blank; reviewing it is left to the caller. */
  exampleBlank(): Promise<void>;
  /** Loads the files the command line serves beside the page. */
  served(manifestUrl: string): Promise<void>;
}

/** Manifest the command line serves: addresses beside the page. */
interface Manifest {
  nominal: string;
  measured: string[];
  plan?: string;
  unitNominal?: LengthUnit;
  unitMeasured?: LengthUnit;
}

/** Where an offered file goes: a plan by its ending, else the first free of nominal and measured. */
export function roleOf(name: string, state: AppState): Role {
  if (/\.json$/i.test(name)) return 'plan';
  return filesOf(state, 'nominal').length === 0 ? 'nominal' : 'measured';
}

export function createSession(
  store: Store<AppState>,
  client: WorkerClient,
  now: () => number = () => performance.now(),
): Session {
  const reading = new Map<string, AbortController>();
  let running: AbortController | null = null;
  let counter = 0;

  const find = (key: string): FileEntry | undefined => store.state.files.find((f) => f.key === key);

  async function read(key: string): Promise<void> {
    const file = find(key);
    if (!file) return;
    const controller = new AbortController();
    reading.set(key, controller);
    store.update((s) => changeFile(s, key, { status: 'reading' }));
    const context = {
      signal: controller.signal,
      onProgress: (progress: FileEntry['progress']): void => store.update((s) => changeFile(s, key, { progress })),
    };
    try {
      const handle = handleOf(file);
      if (file.role === 'plan') {
        const plan = await client.checkPlan(handle, context);
        store.update((s) => changeFile(s, key, { status: 'read', plan, progress: null }));
      } else {
        const shape = await client.check({ ...handle, ...(file.unit ? { unit: file.unit } : {}) }, context);
        store.update((s) => changeFile(s, key, { status: 'read', shape, progress: null }));
      }
    } catch (error) {
      const failure = failureFrom(error);
      if (failure.code === 'cancelled') store.update((s) => removeFile(s, key));
      else store.update((s) => changeFile(s, key, { status: 'failed', failure, progress: null }));
    } finally {
      reading.delete(key);
    }
  }

  function add(offered: Offered, role: Role): Promise<void> {
    const key = `file-${++counter}`;
    if (role !== 'measured') for (const old of filesOf(store.state, role)) session.remove(old.key);
    store.update((s) =>
      addFile(s, {
        key,
        role,
        name: offered.name,
        size: offered.blob.size,
        blob: offered.blob,
        status: 'waiting',
        progress: null,
        unit: offered.unit ?? null,
        shape: null,
        plan: null,
        failure: null,
      }),
    );
    return read(key);
  }

  /** Takes the place of everything open and waits until it is read. */
  async function replaceAll(files: (Offered & { role: Role })[], truths: Truth[] = []): Promise<void> {
    session.stop();
    for (const file of [...store.state.files]) session.remove(file.key);
    const reads = files.map((file) => add(file, file.role));
    store.update((s) => ({ ...s, truths, chosen: [], earlier: [] }));
    await Promise.all(reads);
  }

  /** Opens an example in place of everything. */
  async function openExample(part: 'finished' | 'blank'): Promise<void> {
    store.update((s) => ({ ...s, said: 'Making the example.' }));
    const { files, truths } = await client.sample(part);
    const offered = files.map(({ role, name, bytes }) => ({
      role,
      name,
      blob: new Blob([bytes as Uint8Array<ArrayBuffer>]),
      unit: 'mm' as const,
    }));
    await replaceAll(offered, truths);
  }

  const session: Session = {
    offer(files, role) {
      for (const file of files) void add(file, role ?? file.role ?? roleOf(file.name, store.state));
    },
    remove(key) {
      reading.get(key)?.abort();
      store.update((s) => removeFile(s, key));
      void client.forget([key]).catch(() => undefined);
    },
    stopReading(key) {
      reading.get(key)?.abort();
    },
    unit(key, unit) {
      store.update((s) => chooseUnit(s, key, unit));
    },
    async measure() {
      if (running || obstacle(store.state) !== null) return;
      const controller = new AbortController();
      running = controller;
      const started = now();
      const before = store.state.job;
      store.update((s) => jobStarted(s, started));
      const request = inspectRequest(store.state);
      const pose = startPose(store.state);
      try {
        const reply = await client.inspect(
          { ...request, ...(pose ? { pose } : {}) },
          {
            signal: controller.signal,
            onProgress: (progress) => store.update((s) => jobProgress(s, progress)),
          },
        );
        const { chosen } = store.state;
        const { results } = chosen.length > 0 ? await client.redefine({ definitions: chosen }) : reply;
        store.update((s) => jobDone(s, results, reply.drawing, (now() - started) / 1000));
      } catch (error) {
        const failure = failureFrom(error);
        store.update((s) => {
          if (failure.code !== 'cancelled') return jobFailed(s, failure);
          const after = jobCancelled(s);
          return before.state === 'done' ? { ...after, job: before } : after;
        });
      } finally {
        running = null;
      }
    },
    stop() {
      running?.abort();
    },
    async example() {
      try {
        await openExample('finished');
        await session.measure();
      } catch (error) {
        store.update((s) => jobFailed(s, failureFrom(error)));
      }
    },
    exampleBlank: () => openExample('blank'),
    async served(manifestUrl) {
      try {
        const manifest = (await (await fetched(manifestUrl)).json()) as Manifest;
        const load = async (url: string, role: Role, unit?: LengthUnit): Promise<Offered & { role: Role }> => {
          const address = new URL(url, new URL(manifestUrl, document.baseURI));
          const name = decodeURIComponent(address.pathname.split('/').at(-1) ?? role);
          return { role, name, blob: await (await fetched(address.href)).blob(), ...(unit ? { unit } : {}) };
        };
        const files = [
          load(manifest.nominal, 'nominal', manifest.unitNominal),
          ...manifest.measured.map((url) => load(url, 'measured', manifest.unitMeasured)),
          ...(manifest.plan ? [load(manifest.plan, 'plan')] : []),
        ];
        await replaceAll(await Promise.all(files));
        await session.measure();
      } catch (error) {
        store.update((s) => jobFailed(markStale(s, 'Files were changed'), failureFrom(error)));
      }
    },
  };
  return session;
}

async function fetched(url: string): Promise<Response> {
  const response = await fetch(url);
  if (response.ok) return response;
  throw new CamberwrightError('load/served', `The file could not be fetched (status ${response.status}).`, {
    where: url,
    remedy: 'Start the app again from the command line.',
  });
}

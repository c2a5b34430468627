import { describe, expect, it } from 'vitest';
import { createClient, type WorkerLike } from '../../src/worker/client.ts';
import type { FromWorker, ToWorker } from '../../src/worker/messages.ts';

/** A worker under the test's hand: records what it is told and says what the test wants. */
function fakes() {
  const made: (WorkerLike & { told: ToWorker[]; ended: boolean; say: (m: FromWorker) => void })[] = [];
  const spawn = (): WorkerLike => {
    const worker = {
      told: [] as ToWorker[],
      ended: false,
      onmessage: null as WorkerLike['onmessage'],
      onerror: null as WorkerLike['onerror'],
      postMessage(message: ToWorker) {
        worker.told.push(message);
      },
      terminate() {
        worker.ended = true;
      },
      say(data: FromWorker) {
        worker.onmessage?.({ data });
      },
    };
    made.push(worker);
    return worker;
  };
  return { made, spawn };
}

const file = { key: 'a', name: 'a.stl', blob: new Blob([]) };

describe('worker client', () => {
  it('runs one job at a time, in the order asked', async () => {
    const { made, spawn } = fakes();
    const client = createClient(spawn);
    const first = client.forget(['a']);
    const second = client.forget(['b']);
    expect(made[0].told).toEqual([{ kind: 'start', job: 1, name: 'forget', ask: { keys: ['a'] } }]);
    made[0].say({ kind: 'done', job: 1, reply: null });
    await first;
    expect(made[0].told.at(-1)).toMatchObject({ job: 2, ask: { keys: ['b'] } });
    made[0].say({ kind: 'done', job: 2, reply: null });
    await second;
    expect(made.length).toBe(1);
  });

  it('hands on progress and turns a failure into an error with code, place and remedy', async () => {
    const { made, spawn } = fakes();
    const seen: number[] = [];
    const job = createClient(spawn).check(file, { onProgress: (p) => seen.push(p.done) });
    made[0].say({ kind: 'progress', job: 1, progress: { step: 'read', done: 3, total: 9 } });
    made[0].say({
      kind: 'failed',
      job: 1,
      failure: { code: 'load/empty', message: 'Empty.', where: 'a.stl', remedy: 'Choose another.' },
    });
    await expect(job).rejects.toMatchObject({ code: 'load/empty', where: 'a.stl', remedy: 'Choose another.' });
    expect(seen).toEqual([3]);
  });

  it('asks a job to stop first and keeps the worker when it does', async () => {
    const { made, spawn } = fakes();
    const controller = new AbortController();
    const job = createClient(spawn, 1000).check(file, { signal: controller.signal });
    controller.abort();
    expect(made[0].told.at(-1)).toEqual({ kind: 'cancel', job: 1 });
    made[0].say({ kind: 'failed', job: 1, failure: { code: 'cancelled', message: '', where: null, remedy: '' } });
    await expect(job).rejects.toMatchObject({ code: 'cancelled' });
    expect(made[0].ended).toBe(false);
  });

  it('ends a worker that does not stop, and gives the next job to a new one', async () => {
    const { made, spawn } = fakes();
    const client = createClient(spawn, 5);
    const controller = new AbortController();
    const stuck = client.check(file, { signal: controller.signal });
    const waiting = client.forget(['b']);
    controller.abort();
    await expect(stuck).rejects.toMatchObject({ code: 'cancelled' });
    expect(made[0].ended).toBe(true);
    expect(made[1].told[0]).toMatchObject({ name: 'forget' });
    made[1].say({ kind: 'done', job: 2, reply: null });
    await expect(waiting).resolves.toBeNull();
  });

  it('takes a waiting job out of the queue without starting it', async () => {
    const { made, spawn } = fakes();
    const client = createClient(spawn);
    const controller = new AbortController();
    const first = client.forget(['a']);
    const second = client.check(file, { signal: controller.signal });
    controller.abort();
    await expect(second).rejects.toMatchObject({ code: 'cancelled' });
    made[0].say({ kind: 'done', job: 1, reply: null });
    await first;
    expect(made[0].told.length).toBe(1);
  });

  it('asks for what is measured anew by the names of the jobs', async () => {
    const { made, spawn } = fakes();
    const client = createClient(spawn);
    const request = { section: '4', of: 'leadingEdge.radius', definition: 'R-SB', parameters: { setback: 0.3 } };
    const one = client.measure(request);
    const all = client.redefine({ definitions: [{ of: 'chord', definition: 'CH-BT' }] });
    const list = client.definitions();
    expect(made[0].told).toEqual([{ kind: 'start', job: 1, name: 'measure', ask: request }]);
    const failure = { code: 'usage/not-inspected', message: 'No part.', where: null, remedy: 'Measure.' };
    made[0].say({ kind: 'failed', job: 1, failure });
    await expect(one).rejects.toMatchObject({ code: 'usage/not-inspected' });
    expect(made[0].told.at(-1)).toMatchObject({ job: 2, name: 'redefine' });
    made[0].say({ kind: 'failed', job: 2, failure });
    await expect(all).rejects.toMatchObject({ code: 'usage/not-inspected' });
    made[0].say({ kind: 'done', job: 3, reply: { byOf: {} } });
    await expect(list).resolves.toEqual({ byOf: {} });
  });

  it('replaces a worker that broke', async () => {
    const { made, spawn } = fakes();
    const client = createClient(spawn);
    const job = client.forget(['a']);
    made[0].onerror?.({ message: 'out of memory' });
    await expect(job).rejects.toMatchObject({ code: 'fault/worker', where: 'out of memory' });
    void client.forget(['b']);
    expect(made.length).toBe(2);
  });
});

import { describe, expect, it } from 'vitest';
import { CamberwrightError, cancelled } from '../../src/error.ts';
import { createDispatch, failureOf, type Handlers } from '../../src/worker/dispatch.ts';
import type { FromWorker } from '../../src/worker/messages.ts';

const refuse = (): Promise<never> => Promise.reject(new Error('not asked for'));
const handlers = (part: Partial<Handlers>): Handlers => ({
  check: refuse,
  checkPlan: refuse,
  inspect: refuse,
  definitions: refuse,
  measure: refuse,
  redefine: refuse,
  reviewBlank: refuse,
  placeBlank: refuse,
  adaptBlank: refuse,
  sample: refuse,
  forget: refuse,
  ...part,
});
const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

describe('dispatch', () => {
  it('answers with the handler’s reply and hands over its buffers', async () => {
    const sent: [FromWorker, ArrayBuffer[]][] = [];
    const buffer = new ArrayBuffer(8);
    const dispatch = createDispatch(
      handlers({ forget: async () => null }),
      (m, t) => sent.push([m, t]),
      () => [buffer],
    );
    dispatch({ kind: 'start', job: 7, name: 'forget', ask: { keys: [] } });
    await settle();
    expect(sent).toEqual([[{ kind: 'done', job: 7, reply: null }, [buffer]]]);
  });

  it('thins progress but never drops a new step or the end of one', async () => {
    const sent: FromWorker[] = [];
    let time = 0;
    const dispatch = createDispatch(
      handlers({
        forget: async (_, { onProgress }) => {
          for (let i = 0; i <= 100; i++) {
            onProgress?.({ step: 'read', done: i, total: 100 });
            time += 1;
          }
          onProgress?.({ step: 'place', done: 0, total: 100 });
          return null;
        },
      }),
      (m) => sent.push(m),
      () => [],
      () => time,
    );
    dispatch({ kind: 'start', job: 1, name: 'forget', ask: { keys: [] } });
    await settle();
    const done = sent.flatMap((m) => (m.kind === 'progress' ? [[m.progress.step, m.progress.done]] : []));
    expect(done).toEqual([
      ['read', 0],
      ['read', 60],
      ['read', 100],
      ['place', 0],
    ]);
  });

  it('aborts the job it is told to, and only that', async () => {
    const sent: FromWorker[] = [];
    const dispatch = createDispatch(
      handlers({
        forget: (_, { signal }) =>
          new Promise((_resolve, reject) => signal?.addEventListener('abort', () => reject(cancelled()))),
      }),
      (m) => sent.push(m),
      () => [],
    );
    dispatch({ kind: 'start', job: 1, name: 'forget', ask: { keys: [] } });
    dispatch({ kind: 'start', job: 2, name: 'forget', ask: { keys: [] } });
    dispatch({ kind: 'cancel', job: 2 });
    await settle();
    expect(sent.map((m) => m.kind !== 'ready' && [m.job, m.kind])).toEqual([[2, 'failed']]);
  });

  it('keeps the record of our errors and marks all others as a fault', () => {
    const ours = new CamberwrightError('load/empty', 'Empty.', { where: 'a', remedy: 'b' });
    expect(failureOf(ours)).toEqual({ code: 'load/empty', message: 'Empty.', where: 'a', remedy: 'b' });
    expect(failureOf(new TypeError('x')).code).toBe('fault/unexpected');
    expect(failureOf(new RangeError('Array buffer allocation failed')).code).toBe('fault/memory');
  });
});

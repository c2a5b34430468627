import { describe, expect, it } from 'vitest';
import { type AppState, filesOf, INITIAL_STATE } from '../../../components/state/app-state.ts';
import { createSession, roleOf, type Session } from '../../../components/state/session.ts';
import { createStore, type Store } from '../../../components/state/store.ts';
import { CamberwrightError, cancelled } from '../../../src/error.ts';
import type { WorkerClient } from '../../../src/worker/client.ts';
import type { InspectReply, InspectRequest, ShapeHandle, ShapeSummary } from '../../../src/worker/messages.ts';
import { exampleResults } from '../../support/example-results.ts';

const summary = (name: string, unitStated: boolean): ShapeSummary => ({
  name,
  format: 'ply-binary',
  kind: 'cloud',
  unit: 'mm',
  unitStated,
  sha256: '0'.repeat(64),
  bytes: 1,
  box: { min: [0, 0, 0], max: [1, 2, 3] },
  points: 5,
  triangles: 0,
  sections: 0,
  warnings: [],
});
const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/** A client that answers at once; `inspect` waits for the test or for the signal. */
function harness(part: Partial<WorkerClient> = {}): {
  session: Session;
  store: Store<AppState>;
  asked: InspectRequest[];
  finish: () => void;
} {
  const asked: InspectRequest[] = [];
  let finish = (): void => {};
  const client: WorkerClient = {
    check: async (file: ShapeHandle) => summary(file.name, !file.name.includes('silent')),
    checkPlan: () => Promise.reject(new CamberwrightError('plan/syntax', 'No plan.', { remedy: 'Mend it.' })),
    inspect: (request, context) => {
      asked.push(request);
      return new Promise<InspectReply>((resolve, reject) => {
        finish = () => resolve({ results: exampleResults(), drawing: {} as InspectReply['drawing'] });
        context?.signal?.addEventListener('abort', () => reject(cancelled()));
      });
    },
    sample: async () => ({
      files: [
        { role: 'nominal', name: 'n.csv', bytes: new Uint8Array(1) },
        { role: 'measured', name: 'm.ply', bytes: new Uint8Array(1) },
      ],
      truths: [{ of: 'bow', name: 'Bow', height: null, value: 0.1, unit: 'mm' }],
    }),
    definitions: async () => ({ byOf: {} }),
    measure: () => Promise.reject(cancelled()),
    redefine: async () => ({ results: exampleResults() }),
    reviewBlank: () => Promise.reject(cancelled()),
    placeBlank: () => Promise.reject(cancelled()),
    adaptBlank: () => Promise.reject(cancelled()),
    forget: async () => null,
    close: () => undefined,
    ...part,
  };
  const store = createStore(INITIAL_STATE);
  return { session: createSession(store, client), store, asked, finish: () => finish() };
}
const file = (name: string): { name: string; blob: Blob } => ({ name, blob: new Blob(['x']) });

describe('session', () => {
  it('sorts dropped files by their ending and by what is still free', async () => {
    const { session, store } = harness();
    expect(roleOf('plan.JSON', store.state)).toBe('plan');
    session.offer([file('a.ply'), file('b.ply')]);
    await settle();
    expect(filesOf(store.state, 'nominal').map((f) => f.name)).toEqual(['a.ply']);
    expect(filesOf(store.state, 'measured').map((f) => f.name)).toEqual(['b.ply']);
  });

  it('does not measure before the unit was chosen, and then hands the unit on', async () => {
    const { session, store, asked, finish } = harness();
    session.offer([file('a.ply'), file('silent.stl')]);
    await settle();
    await session.measure();
    expect(asked).toEqual([]);
    session.unit(filesOf(store.state, 'measured')[0].key, 'inch');
    const job = session.measure();
    finish();
    await job;
    expect(asked[0].measured[0].unit).toBe('inch');
    expect(asked[0].nominal.unit).toBeUndefined();
    expect(store.state.job.state).toBe('done');
  });

  it('keeps the earlier results when a second run is stopped', async () => {
    const { session, store, finish } = harness();
    session.offer([file('a.ply'), file('b.ply')]);
    await settle();
    const first = session.measure();
    finish();
    await first;
    const { results } = store.state;
    const second = session.measure();
    session.stop();
    await second;
    expect(store.state.results).toBe(results);
    expect(store.state.job.state).toBe('done');
  });

  it('shows the message of a file that cannot be read', async () => {
    const { session, store } = harness();
    session.offer([file('plan.json')]);
    await settle();
    expect(store.state.files[0]).toMatchObject({
      status: 'failed',
      failure: { code: 'plan/syntax', remedy: 'Mend it.' },
    });
  });

  it('opens the example blank in place of everything and leaves measuring to the user', async () => {
    const asked: string[] = [];
    const {
      session,
      store,
      asked: inspected,
    } = harness({
      sample: async (part) => {
        asked.push(part);
        return {
          files: [
            { role: 'nominal', name: 'n.csv', bytes: new Uint8Array(1) },
            { role: 'measured', name: 'blank.ply', bytes: new Uint8Array(1) },
          ],
          truths: [],
        };
      },
    });
    session.offer([file('old.ply')]);
    await settle();
    await session.exampleBlank();
    expect(asked).toEqual(['blank']);
    expect(store.state.files.map((f) => f.name)).toEqual(['n.csv', 'blank.ply']);
    expect(inspected).toEqual([]);
    expect(store.state.results).toBeNull();
  });

  it('opens the example in place of everything, and forgets its truths with the next file', async () => {
    const { session, store, finish } = harness();
    session.offer([file('old.ply')]);
    await settle();
    const example = session.example();
    await settle();
    await settle();
    finish();
    await example;
    expect(store.state.files.map((f) => f.name)).toEqual(['n.csv', 'm.ply']);
    expect(store.state.truths.length).toBe(1);
    expect(store.state.results).not.toBeNull();
    session.offer([file('mine.ply')], 'measured');
    expect(store.state.truths).toEqual([]);
  });
});

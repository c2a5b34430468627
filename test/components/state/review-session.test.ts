import { describe, expect, it } from 'vitest';
import { type AppState, chooseUnit, INITIAL_STATE } from '../../../components/state/app-state.ts';
import { createReviewSession, type ReviewSession } from '../../../components/state/review-session.ts';
import { createStore, type Store } from '../../../components/state/store.ts';
import { CamberwrightError, cancelled } from '../../../src/error.ts';
import type { WorkerClient } from '../../../src/worker/client.ts';
import type { BlankReply, InspectRequest, PlaceBlankRequest } from '../../../src/worker/messages.ts';
import { exampleBlank } from '../../support/example-blank.ts';

const reply = exampleBlank();
const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/** A store with both files read, and a client whose jobs wait for the test or for the signal. */
function harness(part: Partial<WorkerClient> = {}): {
  session: ReviewSession;
  store: Store<AppState>;
  reviewed: InspectRequest[];
  placed: PlaceBlankRequest[];
  finish: (with_: BlankReply) => Promise<void>;
  opened: () => number;
} {
  const reviewed: InspectRequest[] = [];
  const placed: PlaceBlankRequest[] = [];
  let finish: (with_: BlankReply) => void = () => undefined;
  const wait = (context?: { signal?: AbortSignal }): Promise<BlankReply> =>
    new Promise((resolve, reject) => {
      finish = resolve;
      context?.signal?.addEventListener('abort', () => reject(cancelled()));
    });
  const client = {
    reviewBlank: (request: InspectRequest, context?: { signal?: AbortSignal }) => {
      reviewed.push(request);
      return wait(context);
    },
    placeBlank: (request: PlaceBlankRequest, context?: { signal?: AbortSignal }) => {
      placed.push(request);
      return wait(context);
    },
    ...part,
  } as WorkerClient;
  const file = (key: string, role: 'nominal' | 'measured'): AppState['files'][number] => ({
    key,
    role,
    name: `${key}.ply`,
    size: 1,
    blob: new Blob([]),
    status: 'read',
    progress: null,
    unit: 'mm',
    shape: { unitStated: true } as never,
    plan: null,
    failure: null,
  });
  const store = createStore<AppState>({ ...INITIAL_STATE, files: [file('n', 'nominal'), file('b', 'measured')] });
  let opened = 0;
  const session = createReviewSession(store, client, async () => {
    opened++;
  });
  return {
    session,
    store,
    reviewed,
    placed,
    opened: () => opened,
    finish: async (with_) => {
      finish(with_);
      await settle();
    },
  };
}

describe('review session', () => {
  it('reviews the open files, says the answer and keeps the plan’s zones', async () => {
    const { session, store, reviewed, finish } = harness();
    void session.act({ act: 'review' });
    expect(store.state.review.job.state).toBe('working');
    await finish(reply);
    expect(reviewed[0].measured.map((m) => m.key)).toEqual(['b']);
    expect(store.state.review.reply).toBe(reply);
    expect(store.state.review.planned).toBe(reply.zones);
    expect(store.state.said).toBe(reply.results.answers.stock!.text);
  });

  it('opens the example first when asked for it, and says why it could not', async () => {
    const { session, store, opened, finish } = harness();
    void session.act({ act: 'example' });
    expect(store.state.review.job).toMatchObject({ state: 'working', what: 'Making the example blank' });
    await settle();
    await finish(reply);
    expect(opened()).toBe(1);
    expect(store.state.review.reply).toBe(reply);
    const failing = createReviewSession(store, {} as WorkerClient, () =>
      Promise.reject(new CamberwrightError('fault/worker', 'No example.', { remedy: 'Reload.' })),
    );
    await failing.act({ act: 'example' });
    expect(store.state.review.job).toMatchObject({ state: 'failed', failure: { message: 'No example.' } });
    expect(store.state.review.reply).toBe(reply);
  });

  it('heeds a stop while the example is made', async () => {
    const { store, reviewed } = harness();
    let made = (): void => undefined;
    const client = { reviewBlank: () => Promise.reject(cancelled()) } as unknown as WorkerClient;
    const slow = createReviewSession(
      store,
      client,
      () =>
        new Promise<void>((resolve) => {
          made = resolve;
        }),
    );
    const opening = slow.act({ act: 'example' });
    slow.stop();
    made();
    await opening;
    expect(store.state.review.job.state).toBe('idle');
    expect(reviewed).toEqual([]);
  });

  it('hands on locks, ranges and the stock wanted with every placement', async () => {
    const { session, store, placed, finish } = harness();
    void session.act({ act: 'review' });
    await finish(reply);
    await session.act({ act: 'lock', motion: 'z', locked: true });
    await session.act({ act: 'range', motion: 'x', range: [0.5, -0.5] });
    await session.act({ act: 'want', wanted: { least: 0.2, most: null } });
    void session.act({ act: 'place', method: 'share-stock' });
    const better = exampleBlank([-0.1, -0.4, 0], 'share-stock');
    await finish(better);
    expect(placed[0]).toEqual({
      method: 'share-stock',
      locks: ['z'],
      ranges: { x: [-0.5, 0.5] },
      wanted: { least: 0.2, most: null },
    });
    expect(store.state.review).toMatchObject({ reply: better, usedWanted: { least: 0.2, most: null } });
    expect(store.state.review.planned).toBe(reply.zones);
  });

  it('places by the matrix of the better placement and of a trial', async () => {
    const { session, placed, finish } = harness();
    void session.act({ act: 'review' });
    await finish(reply);
    void session.act({ act: 'better' });
    await finish(reply);
    expect(placed[0]).toMatchObject({ method: 'given', matrix: reply.results.stock!.better!.matrix });
    const matrix = [1, 0, 0, 0.1, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
    void session.act({ act: 'confirm', matrix });
    await finish(reply);
    expect(placed[1]).toMatchObject({ method: 'given', matrix });
  });

  it('goes back to the last result when it is stopped, and keeps it when a placement fails', async () => {
    const { session, store, finish } = harness();
    void session.act({ act: 'review' });
    await finish(reply);
    const placing = session.act({ act: 'place', method: 'datum' });
    await session.act({ act: 'stop' });
    await placing;
    expect(store.state.review).toMatchObject({ reply, job: { state: 'done' } });
    expect(store.state.said).toMatch(/^Stopped/);
    const failing = createReviewSession(
      store,
      {
        placeBlank: () => Promise.reject(new CamberwrightError('place/datum', 'No targets.', { remedy: 'Name six.' })),
      } as unknown as WorkerClient,
      async () => undefined,
    );
    await failing.act({ act: 'place', method: 'datum' });
    expect(store.state.review).toMatchObject({ reply, job: { state: 'failed', failure: { remedy: 'Name six.' } } });
  });

  it('marks the review as old with the change that caused it, and places no old blank', async () => {
    const { session, store, placed, finish } = harness();
    void session.act({ act: 'review' });
    await finish(reply);
    store.update((s) => chooseUnit(s, 'b', 'inch'));
    expect(store.state.review.stale).toBe('The unit was changed');
    await session.act({ act: 'place', method: 'best-fit' });
    expect(placed).toEqual([]);
    void session.act({ act: 'review' });
    await finish(reply);
    expect(store.state.review.stale).toBeNull();
  });
});

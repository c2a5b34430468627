import type { AdaptMethod } from '../../src/adapt-blank.ts';
import { cancelled } from '../../src/error.ts';
import type { WorkerClient } from '../../src/worker/client.ts';
import type { BlankReply, PlaceBlankRequest } from '../../src/worker/messages.ts';
import { type AppState, filesOf, inspectRequest, obstacle } from './app-state.ts';
import { failureFrom } from './failure.ts';
import { ADAPTING, adaptDone, adaptFailed, adaptObstacle } from './review-adapt.ts';
import {
  allowedByPlan,
  changeReview,
  type ReviewAction,
  type ReviewState,
  reviewDone,
  reviewFailed,
  reviewProgress,
  reviewStarted,
  type Wanted,
} from './review-state.ts';
import type { Store } from './store.ts';

const PLACING = 'Placing the blank';

/** What the Stock page asks for; every long step runs in the worker and can be stopped. */
export interface ReviewSession {
  act(action: ReviewAction): Promise<void>;
  stop(): void;
}

/** A placement with what the user locked, allowed and wants. */
function placeRequest(review: ReviewState, placement: Pick<PlaceBlankRequest, 'method' | 'matrix'>): PlaceBlankRequest {
  const { locks, ranges, wanted } = review;
  return { ...placement, locks, ranges, ...(wanted ? { wanted } : {}) };
}

/** @param example opens the example blank in place of the files; it is reviewed afterwards */
export function createReviewSession(
  store: Store<AppState>,
  client: WorkerClient,
  example: () => Promise<void>,
  now: () => number = () => performance.now(),
): ReviewSession {
  let running: AbortController | null = null;
  const update = (change: (review: ReviewState) => ReviewState, said?: string): void =>
    store.update((s) => ({ ...s, review: change(s.review), ...(said === undefined ? {} : { said }) }));

  async function run(
    what: string,
    done: { wanted: Wanted | null; first: boolean },
    ask: (context: Parameters<WorkerClient['reviewBlank']>[1]) => Promise<BlankReply>,
  ): Promise<void> {
    if (running) return;
    const controller = new AbortController();
    running = controller;
    const started = now();
    const before = store.state.review.job;
    update((r) => reviewStarted(r, what, started), `${what}.`);
    try {
      const reply = await ask({
        signal: controller.signal,
        onProgress: (progress) => update((r) => reviewProgress(r, progress)),
      });
      const { text } = reply.results.answers.stock ?? { text: 'Done.' };
      const seconds = (now() - started) / 1000;
      update((r) => reviewDone(r, reply, { ...done, seconds }), text);
    } catch (error) {
      const failure = failureFrom(error);
      const stopped = failure.code === 'cancelled';
      update(
        (r) => (stopped && before.state === 'done' ? { ...r, job: before } : reviewFailed(r, failure)),
        stopped ? 'Stopped. Nothing was changed.' : failure.message,
      );
    } finally {
      running = null;
    }
  }

  async function review(): Promise<void> {
    if (obstacle(store.state) !== null) return;
    const request = inspectRequest(store.state);
    const plan = filesOf(store.state, 'plan')[0]?.plan?.plan ?? null;
    const { reply, stale } = store.state.review;
    if (reply === null || stale !== null) update((r) => allowedByPlan(r, plan));
    await run('Reviewing the blank', { wanted: null, first: true }, (context) => client.reviewBlank(request, context));
  }

  async function place(what: string, placement: Pick<PlaceBlankRequest, 'method' | 'matrix'>): Promise<void> {
    const { review: now } = store.state;
    if (!now.reply || now.stale !== null) return;
    const request = placeRequest(now, placement);
    await run(what, { wanted: now.wanted, first: false }, (context) => client.placeBlank(request, context));
  }

  /** Adapts the finished blade to the blank as last placed. */
  async function adapt(method: AdaptMethod): Promise<void> {
    if (running || adaptObstacle(store.state.review) !== null) return;
    const controller = new AbortController();
    running = controller;
    const started = now();
    const before = store.state.review.job;
    update((r) => reviewStarted(r, ADAPTING, started), `${ADAPTING}.`);
    try {
      const date = new Date().toISOString().slice(0, 19);
      const adapted = await client.adaptBlank(date, method, {
        signal: controller.signal,
        onProgress: (progress) => update((r) => reviewProgress(r, progress)),
      });
      update((r) => adaptDone(r, adapted, (now() - started) / 1000), adapted.answer.text);
    } catch (error) {
      const failure = failureFrom(error);
      const said = failure.code === 'cancelled' ? 'Stopped. Nothing was changed.' : failure.message;
      update((r) => adaptFailed(r, failure, before), said);
    } finally {
      running = null;
    }
  }

  /** Makes the example and reviews it; a stop is heeded as soon as it is made. */
  async function openExample(): Promise<void> {
    if (running) return;
    const controller = new AbortController();
    running = controller;
    update((r) => reviewStarted(r, 'Making the example blank', now()), 'Making the example blank.');
    try {
      await example();
      if (controller.signal.aborted) throw cancelled();
      update((r) => ({ ...r, job: { state: 'idle' } }));
    } catch (error) {
      update((r) => reviewFailed(r, failureFrom(error)));
      return;
    } finally {
      running = null;
    }
    await review();
  }

  return {
    async act(action) {
      switch (action.act) {
        case 'review':
          return review();
        case 'example':
          return openExample();
        case 'place':
          return place(PLACING, { method: action.method });
        case 'better': {
          const found = store.state.review.reply?.results.stock?.better;
          return found ? place(PLACING, { method: 'given', matrix: found.matrix }) : undefined;
        }
        case 'confirm':
          return place('Computing the trial on all points', { method: 'given', matrix: action.matrix });
        case 'adapt':
          return adapt(action.method);
        case 'stop':
          running?.abort();
          return;
        default:
          update((r) => changeReview(r, action));
      }
    },
    stop() {
      running?.abort();
    },
  };
}

import { describe, expect, it } from 'vitest';
import { type AppState, INITIAL_STATE } from '../../../components/state/app-state.ts';
import { ADAPTING, adaptObstacle, adaptStale, shownAdapted } from '../../../components/state/review-adapt.ts';
import { createReviewSession } from '../../../components/state/review-session.ts';
import {
  changeReview,
  INITIAL_REVIEW,
  type ReviewState,
  reviewDone,
  reviewStale,
  reviewStarted,
} from '../../../components/state/review-state.ts';
import { createStore } from '../../../components/state/store.ts';
import { CamberwrightError, cancelled } from '../../../src/error.ts';
import type { WorkerClient } from '../../../src/worker/client.ts';
import type { AdaptReply } from '../../../src/worker/messages.ts';
import { exampleAdapt } from '../../support/example-adapt.ts';
import { exampleBlank } from '../../support/example-blank.ts';

const reply = exampleBlank();
const adapted = exampleAdapt(reply.results);
const done = reviewDone(INITIAL_REVIEW, reply, { wanted: null, first: true, seconds: 1 });
const tried = (review: ReviewState) => changeReview(review, { act: 'move', motion: 'y', value: -0.2 });

/** A session over a review whose `adaptBlank` answers as given. */
function harness(review: ReviewState, answer: (date: string) => Promise<AdaptReply>) {
  const dates: string[] = [];
  const adaptBlank = (date: string): Promise<AdaptReply> => {
    dates.push(date);
    return answer(date);
  };
  const store = createStore<AppState>({ ...INITIAL_STATE, review });
  const session = createReviewSession(store, { adaptBlank } as unknown as WorkerClient, async () => undefined);
  return { store, session, dates };
}

describe('what keeps edges from being adapted', () => {
  it('is a blank not reviewed, a review out of date, a trial, or another step', () => {
    expect(adaptObstacle(INITIAL_REVIEW)).toMatch(/Review the blank first/);
    expect(adaptObstacle(reviewStale(done, 'Files were changed'))).toMatch(/out of date/);
    expect(adaptObstacle(tried(done))).toMatch(/confirm/);
    expect(adaptObstacle(changeReview(done, { act: 'want', wanted: { least: 0.1, most: null } }))).toMatch(/confirm/);
    expect(adaptObstacle(reviewStarted(done, 'Placing the blank', 0))).toMatch(/running/);
    expect(adaptObstacle(reviewStarted(done, ADAPTING, 0))).toMatch(/being adapted/);
    expect(adaptObstacle(done)).toBeNull();
  });

  it('keeps the worker from being asked', async () => {
    const { session, dates } = harness(tried(done), async () => adapted);
    await session.act({ act: 'adapt', method: 'edges' });
    expect(dates).toEqual([]);
  });
});

describe('adapting', () => {
  it('keeps what the worker found, says the answer, and dates the files to the second', async () => {
    const { session, store, dates } = harness(done, async () => adapted);
    const asked = session.act({ act: 'adapt', method: 'edges' });
    expect(store.state.review.job).toMatchObject({ state: 'working', what: ADAPTING });
    await asked;
    expect(store.state.review).toMatchObject({ adapted, job: { state: 'done' } });
    expect(store.state.said).toBe(adapted.answer.text);
    expect(dates[0]).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d$/);
  });

  it('keeps what was shown when it fails or is stopped, and says why', async () => {
    const before = { ...done, adapted };
    const broken = new CamberwrightError('fault/worker', 'The worker broke.', { remedy: 'Reload.' });
    const failing = harness(before, () => Promise.reject(broken));
    await failing.session.act({ act: 'adapt', method: 'edges' });
    expect(failing.store.state.review).toMatchObject({ adapted, job: done.job });
    expect(failing.store.state.review.adaptFailure?.message).toBe('The worker broke.');
    const stopped = harness(before, () => Promise.reject(cancelled()));
    await stopped.session.act({ act: 'adapt', method: 'edges' });
    expect(stopped.store.state.review).toMatchObject({ adapted, adaptFailure: null, job: done.job });
    expect(stopped.store.state.said).toBe('Stopped. Nothing was changed.');
  });
});

describe('adapted edges', () => {
  const review = { ...done, adapted };

  it('are old in a trial and when files change, and are dropped with another placement', () => {
    expect(adaptStale(review)).toBeNull();
    expect(adaptStale(tried(review))).toMatch(/trial/);
    expect(adaptStale(changeReview(tried(review), { act: 'back' }))).toBeNull();
    expect(adaptStale(reviewStale(review, 'Files were changed'))).toBe('Files were changed');
    expect(reviewDone(review, reply, { wanted: null, first: false, seconds: 1 }).adapted).toBeNull();
  });

  it('show the section nearest to the place chosen, else to the one the page shows', () => {
    const { sections } = adapted.adapt;
    const last = sections[sections.length - 1];
    expect(shownAdapted(adapted.adapt, reply.results, { height: last.height + 3 })).toBe(last);
    const middle = reply.results.sections[Math.floor(reply.results.sections.length / 2)];
    expect(shownAdapted(adapted.adapt, reply.results, {})?.id).toBe(middle.id);
    expect(shownAdapted({ ...adapted.adapt, sections: [] }, reply.results, {})).toBeNull();
  });
});

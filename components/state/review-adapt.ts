import type { Adapt, AdaptedSection } from '../../src/model/adapt-results.ts';
import type { Results } from '../../src/model/results.ts';
import type { AdaptReply, Failure } from '../../src/worker/messages.ts';
import { onTrial, type ReviewState } from './review-state.ts';
import { type Selection, shownSection } from './selection.ts';

/** What the Stock page keeps of the finished blade adapted to the blank. */

/** What the adapting is called while it runs. */
export const ADAPTING = 'Adapting the finished blade';

/** What keeps the edges from being adapted now, in words; null when they may be. */
export function adaptObstacle(review: ReviewState): string | null {
  if (review.reply === null) return 'Review the blank first.';
  if (review.stale !== null) return 'The review is out of date: review the blank again first.';
  if (onTrial(review)) return 'Trial: confirm it first.';
  const { job } = review;
  if (job.state !== 'working') return null;
  return job.what === ADAPTING ? 'It is being adapted.' : 'Another step is running.';
}

export function adaptDone(review: ReviewState, adapted: AdaptReply, seconds: number): ReviewState {
  return { ...review, adapted, adaptFailure: null, job: { state: 'done', seconds } };
}

/** What was shown before stays; a stop is no failure. */
export function adaptFailed(review: ReviewState, failure: Failure, before: ReviewState['job']): ReviewState {
  return { ...review, adaptFailure: failure.code === 'cancelled' ? null : failure, job: before };
}

/** What made the adapted edges old, in words; null while they are those of the placement shown. */
export function adaptStale(review: ReviewState): string | null {
  if (review.adapted === null) return null;
  if (review.stale !== null) return review.stale;
  return onTrial(review) ? 'The trial is another placement or wants another stock' : null;
}

/** Results of the review with the adapted blade in them, where there is one. */
export function withAdapted(results: Results, { adapted }: ReviewState): Results {
  if (adapted === null) return results;
  const { adapt, answer } = adapted;
  return { ...results, answers: { ...results.answers, adapt: answer }, adapt };
}

/** The adapted section nearest to the one the page shows; null when there is none. */
export function shownAdapted({ sections }: Adapt, results: Results, selection: Selection): AdaptedSection | null {
  const height = selection.height ?? shownSection(results, selection)?.height ?? 0;
  return sections.reduce<AdaptedSection | null>(
    (best, s) => (best === null || Math.abs(s.height - height) < Math.abs(best.height - height) ? s : best),
    null,
  );
}

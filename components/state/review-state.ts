import type { AdaptMethod } from '../../src/adapt-blank.ts';
import type { Progress } from '../../src/model/context.ts';
import type { Plan } from '../../src/model/plan.ts';
import type { AdaptReply, BlankRanges, BlankReply, Failure, PlaceBlankRequest } from '../../src/worker/messages.ts';
import type { Motion } from '../controls/words.ts';

/** What the Stock page keeps of a blank's review, and the plain functions that change it. */

/** Stock wanted in every zone instead of the plan's (mm); `most` null: no upper limit. */
export type Wanted = NonNullable<PlaceBlankRequest['wanted']>;

export type PlaceMethod = Exclude<PlaceBlankRequest['method'], 'given'>;

type ReviewJob =
  | { state: 'idle' }
  | { state: 'working'; what: string; progress: Progress | null; steps: string[]; startedMs: number }
  | { state: 'failed'; failure: Failure }
  | { state: 'done'; seconds: number };

/** A result that is kept for comparing. */
export interface KeptReview {
  key: string;
  name: string;
  results: BlankReply['results'];
  zones: BlankReply['zones'];
  /** Stock wanted that stood over the plan's; null: the plan's own. */
  wanted: Wanted | null;
}

export interface ReviewState {
  job: ReviewJob;
  reply: BlankReply | null;
  /** The change that made the review old, in words; null while it is current. */
  stale: string | null;
  kept: KeptReview[];
  /** Names given so far, so that a letter is not given twice. */
  named: number;
  /** Values of the six motions that are tried (mm, degrees); null: those of the reply. */
  trial: readonly number[] | null;
  locks: Motion[];
  /** Motions allowed from the placement the review began with (mm, degrees). */
  ranges: BlankRanges;
  /** Values of that placement. */
  origin: readonly number[];
  /** Stock wanted over the plan's; null: the plan's own. */
  wanted: Wanted | null;
  /** The same as the reply stands on. */
  usedWanted: Wanted | null;
  /** The zones with the stock the plan wants. */
  planned: BlankReply['zones'];
  /** The finished blade adapted to the blank as the reply places it; null until that is asked for. */
  adapted: AdaptReply | null;
  adaptFailure: Failure | null;
}

export const INITIAL_REVIEW: ReviewState = {
  job: { state: 'idle' },
  reply: null,
  stale: null,
  kept: [],
  named: 0,
  trial: null,
  locks: [],
  ranges: {},
  origin: [0, 0, 0, 0, 0, 0],
  wanted: null,
  usedWanted: null,
  planned: [],
  adapted: null,
  adaptFailure: null,
};

/** At most this many results are kept. */
export const MOST_KEPT = 6;

/** What the Stock page can ask for. */
export type ReviewAction =
  | { act: 'review' }
  | { act: 'example' }
  | { act: 'place'; method: PlaceMethod }
  /** The placement that is tried, row-major 4 × 4, on all points. */
  | { act: 'confirm'; matrix: readonly number[] }
  | { act: 'stop' }
  | { act: 'better' }
  /** The finished blade is to be adapted to the blank as it is placed. */
  | { act: 'adapt'; method: AdaptMethod }
  | ReviewChange;

/** The part of it that needs no computation elsewhere. */
export type ReviewChange =
  | { act: 'move'; motion: Motion; value: number }
  | { act: 'back' }
  | { act: 'lock'; motion: Motion; locked: boolean }
  | { act: 'range'; motion: Motion; range: readonly [number, number] | null }
  | { act: 'want'; wanted: Wanted | null }
  | { act: 'keep' }
  | { act: 'rename'; key: string; name: string }
  | { act: 'unkeep'; key: string };

const AXES = ['x', 'y', 'z', 'rx', 'ry', 'rz'] as const;

/** Values of the six motions the reply stands on: translation at the pivot (mm), rotations (degrees). */
export function placedValues(reply: BlankReply): number[] {
  const { alignment } = reply.results;
  return alignment ? [...alignment.translation, ...alignment.rotationDeg] : [0, 0, 0, 0, 0, 0];
}

const sameWanted = (a: Wanted | null, b: Wanted | null): boolean => a?.least === b?.least && a?.most === b?.most;

/** True while what is shown was not computed on all points. */
export function onTrial(review: ReviewState): boolean {
  return review.reply !== null && (review.trial !== null || !sameWanted(review.wanted, review.usedWanted));
}

/** A name of one letter, then with a number: A … Z, A2 … */
function letterName(count: number): string {
  const turn = Math.floor(count / 26);
  return String.fromCharCode(65 + (count % 26)) + (turn > 0 ? String(turn + 1) : '');
}

function keep(review: ReviewState): ReviewState {
  const { reply, kept, named } = review;
  if (!reply || kept.length >= MOST_KEPT || onTrial(review) || review.stale !== null) return review;
  const name = letterName(named);
  const { results, zones } = reply;
  return {
    ...review,
    named: named + 1,
    kept: [...kept, { key: `kept-${named}`, name, results, zones, wanted: review.usedWanted }],
  };
}

/** Lowest and highest value a motion may take, as its values are shown; null where it is free. */
export function allowedValues(review: ReviewState, motion: Motion): [number, number] | null {
  const range = review.ranges[motion];
  const from = review.origin[AXES.indexOf(motion)];
  return range ? [from + range[0], from + range[1]] : null;
}

/** What the plan locks and allows, taken before a first review. */
export function allowedByPlan(review: ReviewState, plan: Plan | null): ReviewState {
  const ranges = Object.entries(plan?.stock?.ranges ?? {}).filter(([, range]) => range !== undefined);
  return { ...review, locks: [...(plan?.stock?.locks ?? [])], ranges: Object.fromEntries(ranges) };
}

function move(review: ReviewState, motion: Motion, value: number): ReviewState {
  const { reply, locks } = review;
  if (!reply || locks.includes(motion)) return review;
  const trial = [...(review.trial ?? placedValues(reply))];
  const [low, high] = allowedValues(review, motion) ?? [value, value];
  trial[AXES.indexOf(motion)] = Math.min(high, Math.max(low, value));
  const still = placedValues(reply).every((placed, k) => placed === trial[k]);
  return { ...review, trial: still ? null : trial };
}

function setRange(review: ReviewState, motion: Motion, range: readonly [number, number] | null): ReviewState {
  const { [motion]: _, ...others } = review.ranges;
  if (range === null) return { ...review, ranges: others };
  const [low, high] = range;
  return { ...review, ranges: { ...others, [motion]: low <= high ? [low, high] : [high, low] } };
}

/** The review after one change. */
export function changeReview(review: ReviewState, change: ReviewChange): ReviewState {
  switch (change.act) {
    case 'move':
      return move(review, change.motion, change.value);
    case 'back':
      return { ...review, trial: null, wanted: review.usedWanted };
    case 'lock': {
      const others = review.locks.filter((motion) => motion !== change.motion);
      return { ...review, locks: change.locked ? [...others, change.motion] : others };
    }
    case 'range':
      return setRange(review, change.motion, change.range);
    case 'want':
      return { ...review, wanted: change.wanted };
    case 'keep':
      return keep(review);
    case 'rename': {
      const name = change.name.trim();
      if (name === '') return review;
      return { ...review, kept: review.kept.map((k) => (k.key === change.key ? { ...k, name } : k)) };
    }
    case 'unkeep':
      return { ...review, kept: review.kept.filter((k) => k.key !== change.key) };
  }
}

export function reviewStarted(review: ReviewState, what: string, nowMs: number): ReviewState {
  return { ...review, job: { state: 'working', what, progress: null, steps: [], startedMs: nowMs } };
}

export function reviewProgress(review: ReviewState, progress: Progress): ReviewState {
  const { job } = review;
  if (job.state !== 'working') return review;
  const steps = job.steps.includes(progress.step) ? job.steps : [...job.steps, progress.step];
  return { ...review, job: { ...job, progress, steps } };
}

/**
 * A result on all points takes the place of the one before and of any trial; kept ones stay, adapted edges go.
 * @param wanted stock wanted over the plan's that it stands on
 * @param first true for a review, which tells the plan's zones and the placement that ranges count from
 */
export function reviewDone(
  review: ReviewState,
  reply: BlankReply,
  { wanted, first, seconds }: { wanted: Wanted | null; first: boolean; seconds: number },
): ReviewState {
  return {
    ...review,
    reply,
    wanted,
    usedWanted: wanted,
    ...(first ? { planned: reply.zones, origin: reply.origin } : {}),
    trial: null,
    stale: null,
    adapted: null,
    adaptFailure: null,
    job: { state: 'done', seconds },
  };
}

export function reviewFailed(review: ReviewState, failure: Failure): ReviewState {
  return { ...review, job: failure.code === 'cancelled' ? { state: 'idle' } : { state: 'failed', failure } };
}

/** The review stays on screen but is marked as old. */
export function reviewStale(review: ReviewState, what: string): ReviewState {
  return review.reply === null || review.stale !== null ? review : { ...review, stale: what };
}

import { describe, expect, it } from 'vitest';
import {
  changeReview,
  INITIAL_REVIEW,
  MOST_KEPT,
  onTrial,
  placedValues,
  type ReviewState,
  reviewDone,
  reviewStale,
} from '../../../components/state/review-state.ts';
import { exampleBlank } from '../../support/example-blank.ts';

const reply = exampleBlank([0.01, 0.02, 0.03]);
const done = reviewDone(INITIAL_REVIEW, reply, { wanted: null, first: true, seconds: 1 });
const times = (n: number, state: ReviewState, step: (s: ReviewState) => ReviewState): ReviewState =>
  n === 0 ? state : times(n - 1, step(state), step);

describe('review state', () => {
  it('tries a value of one motion and keeps the others, within its range, never a locked one', () => {
    const moved = changeReview(done, { act: 'move', motion: 'y', value: -0.3 });
    expect(moved.trial).toEqual(placedValues(reply).map((value, k) => (k === 1 ? -0.3 : value)));
    expect(onTrial(moved)).toBe(true);
    const ranged = changeReview(moved, { act: 'range', motion: 'rz', range: [-0.1, 0.2] });
    const origin = placedValues(reply)[5];
    expect(changeReview(ranged, { act: 'move', motion: 'rz', value: 4 }).trial![5]).toBe(origin + 0.2);
    const locked = changeReview(ranged, { act: 'lock', motion: 'rz', locked: true });
    expect(changeReview(locked, { act: 'move', motion: 'rz', value: 0.1 })).toBe(locked);
  });

  it('is no trial once the placed values are back, or by Back', () => {
    const moved = changeReview(done, { act: 'move', motion: 'x', value: 1 });
    expect(onTrial(changeReview(moved, { act: 'move', motion: 'x', value: placedValues(reply)[0] }))).toBe(false);
    const wanting = changeReview(moved, { act: 'want', wanted: { least: 0.1, most: null } });
    expect(onTrial(wanting)).toBe(true);
    expect(onTrial(changeReview(wanting, { act: 'back' }))).toBe(false);
  });

  it('keeps up to six results, never a trial or an old one, each under its own letter', () => {
    const kept = times(MOST_KEPT + 2, done, (s) => changeReview(s, { act: 'keep' }));
    expect(kept.kept.map((k) => k.name)).toEqual(['A', 'B', 'C', 'D', 'E', 'F']);
    const fewer = changeReview(kept, { act: 'unkeep', key: kept.kept[1].key });
    expect(changeReview(fewer, { act: 'keep' }).kept.map((k) => k.name)).toEqual(['A', 'C', 'D', 'E', 'F', 'G']);
    const trial = changeReview(done, { act: 'move', motion: 'x', value: 1 });
    expect(changeReview(trial, { act: 'keep' }).kept).toEqual([]);
    expect(changeReview(reviewStale(done, 'Files were changed'), { act: 'keep' }).kept).toEqual([]);
  });

  it('renames a kept result, and not to nothing', () => {
    const kept = changeReview(done, { act: 'keep' });
    const { key } = kept.kept[0];
    expect(changeReview(kept, { act: 'rename', key, name: ' shared ' }).kept[0].name).toBe('shared');
    expect(changeReview(kept, { act: 'rename', key, name: '  ' }).kept[0].name).toBe('A');
  });

  it('names the first change that made it old', () => {
    expect(reviewStale(INITIAL_REVIEW, 'x').stale).toBeNull();
    expect(reviewStale(reviewStale(done, 'first'), 'second').stale).toBe('first');
  });
});

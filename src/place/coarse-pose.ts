import { identityPose } from '../math/rigid.ts';
import { breathe, type RunContext } from '../model/context.ts';
import type { Pose } from '../model/pose.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import { type Descent, type DescentRoom, descend, descentRoom, explainedSum } from './coarse-descent.ts';
import { axisStarts, everyWayStarts } from './coarse-starts.ts';
import { explainedPart, nominalPatches, type Patches } from './explained-part.ts';
import { boundsOf, facetLookUp, fieldLookUp, type LookUp } from './near-field.ts';
import { aerofoilCandidates, type PointSet, pointSet } from './point-sets.ts';
import { isSamePlacement } from './same-placement.ts';
import { thinnedPoints } from './thinned-points.ts';

export type Handedness = 'proper' | 'mirrored';

/** A placement found, best first in {@link CoarsePose.candidates}. */
export interface CoarseCandidate {
  /** Proper motion; a mirrored candidate moves the points with x reversed. */
  pose: Pose;
  handedness: Handedness;
  /** Root mean square distance over the points the winner explains (mm). */
  residual: number;
  /** Share of the measured points explained, 0 … 1, nearer points counting more. */
  measured: number;
  /** Share of the nominal's area explained. */
  nominal: number;
  /** How much larger than the nominal the part is all round (mm); 0 where that cannot be told. */
  offset: number;
}

export interface CoarsePose extends CoarseCandidate {
  /** Residual of the best genuinely different placement over that of the chosen one; null when there is no other. */
  rivalRatio: number | null;
  candidates: CoarseCandidate[];
  /** Distance within which a point counted as explained (mm). */
  reach: number;
  /** Diagonal of the nominal's box (mm). */
  size: number;
}

/** Edge of the thinning cubes, share of the nominal's size. */
const THIN_SHARE = 0.012;
/** Points of a start, of the second pass, of the exact pass and of the last. */
const [FIRST, SECOND, THIRD, LAST] = [120, 300, 300, 1200];
const JUDGED = 3000;
/** Starts kept of each set and handedness; candidates kept of each handedness after the second pass, those also tried with a free offset, and those kept for the last pass. */
const [KEPT_FIRST, KEPT_SECOND, KEPT_FREE, KEPT_LAST] = [16, 20, 6, 3];
/** Distances (shares of the size) over which a point counts, pass by pass. */
const REACH = { start: 0.12, first: 0.06, second: 0.03, exact: 0.02, last: 0.01 };
/** A best candidate this good makes the search in all orientations needless. */
const CLEAR = { ratio: 2, share: 0.6 };
const TRIMMED = 0.9;
/** Sets tried first, and in all orientations: the whole scan and its largest piece. */
const PLAIN_SETS = 2;
/** Share of its score that a placement with a free offset keeps. */
const OFFSET_COST = 0.8;
/** Placements this many times farther apart than the same ones are rivals. */
const ALIKE = 2.5;
/** Most rounds of the comparison, and how much better another candidate must be to start one more. */
const ROUNDS = 3;
const BETTER = 1.02;

/** What the search needs to know of a nominal; the same for every part measured against it. */
export interface CoarseSearch {
  field: LookUp;
  exact: LookUp;
  patches: Patches;
  nominal: PointSet;
  span: number;
  size: number;
  room: DescentRoom;
}

interface Draft extends Descent {
  /** Placed as a part that may be larger or smaller all round. */
  free: boolean;
  handedness: Handedness;
  set: PointSet;
  score: number;
}

/**
 * Returns where a measured part sits on the nominal, with no initial guess, over all orientations and both
 * handednesses, whatever else the scan holds. Thousands of starts (its own position; principal axes of the scan, shifted along the span;
 * then of its parts, then all orientations, as long as there is no clear winner) descend by point-to-plane steps in three passes; the
 * winner explains most of both the points and the nominal. Judging the answer is left to the caller.
 *
 * @param points measured points or mesh vertices, x0, y0, z0, … (mm)
 */
export async function findCoarsePose(
  search: CoarseSearch,
  points: Float64Array,
  context: RunContext = {},
): Promise<CoarsePose> {
  const edge = THIN_SHARE * search.size;
  const proper = thinnedPoints(points, edge);
  const even = { proper, mirrored: mirroredPoints(proper) };
  const sets = aerofoilCandidates(proper, search.size, edge);
  const drafts: Draft[] = [];
  let best: CoarsePose | null = null;
  for (const { among, starts } of [
    { among: sets.slice(0, PLAIN_SETS), starts: ownAndAxisStarts },
    { among: sets.slice(PLAIN_SETS), starts: axisStarts },
    { among: sets.slice(0, PLAIN_SETS), starts: everyWayStarts },
  ]) {
    for (const set of among)
      for (const handedness of ['proper', 'mirrored'] as const) {
        const own = handedness === 'proper' ? set : pointSet(mirroredPoints(set.points));
        drafts.push(...firstPass(search, own, handedness, starts(own, search.nominal, search.span)));
        await breathe(context);
      }
    best = await settle(search, even, drafts, context);
    if (isClear(best)) break;
  }
  return best as CoarsePose;
}

/** The file's own position, which is often right, before those by principal axes. */
function ownAndAxisStarts(set: PointSet, nominal: PointSet, span: number): Pose[] {
  return [identityPose(), ...axisStarts(set, nominal, span)];
}

/** Points with x reversed: what a mirrored candidate's pose moves. */
export function mirroredPoints(points: Float64Array): Float64Array {
  return points.map((value, i) => (i % 3 === 0 ? -value : value));
}

/** Diagonal of the nominal's box (mm). */
export function nominalSize(target: NominalTarget): number {
  const { min, max } = boundsOf(target.mesh.positions);
  return Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}

/** Returns what {@link findCoarsePose} needs to know of a nominal. */
export function coarseSearch(target: NominalTarget): CoarseSearch {
  const size = nominalSize(target);
  const all = facetLookUp(target);
  const { heights } = target.surface;
  return {
    field: fieldLookUp(target, all, size),
    exact: facetLookUp(target, 3 * REACH.exact * size),
    patches: nominalPatches(target),
    nominal: pointSet(thinnedPoints(target.mesh.positions, THIN_SHARE * size)),
    span: heights[heights.length - 1] - heights[0],
    size,
    room: descentRoom(JUDGED),
  };
}

function plan(
  search: CoarseSearch,
  steps: number,
  reachFirst: number,
  reachLast: number,
  exact: boolean,
  free: boolean,
  endPull = 0,
) {
  const { size, nominal } = search;
  return {
    steps,
    reachFirst: reachFirst * size,
    reachLast: reachLast * size,
    centre: nominal.centre,
    radius: size / 4,
    endPull,
    offset: free,
    damping: exact ? 1e-6 : 1e-3,
    enough: 1e-5 * size,
  };
}

function firstPass(search: CoarseSearch, set: PointSet, handedness: Handedness, starts: Pose[]): Draft[] {
  const { field, room, size } = search;
  const count = Math.min(FIRST, set.points.length / 3);
  const steps = plan(search, 6, REACH.start, REACH.first, false, false, 0.3);
  const drafts = starts.map((start) => {
    const end = descend(field, set.points, count, start, steps, room);
    const score = explainedSum(field, set.points, count, end.pose, REACH.first * size, room);
    return { ...end, handedness, free: false, set, score };
  });
  return distinct(search, drafts, KEPT_FIRST);
}

/** Best drafts first, those that mean the same placement once. */
function distinct(search: CoarseSearch, drafts: Draft[], most: number): Draft[] {
  const kept: Draft[] = [];
  for (const draft of [...drafts].sort((a, b) => b.score - a.score)) {
    if (kept.length === most) break;
    const same = kept.some(
      (other) => other.handedness === draft.handedness && isSamePlacement(other.pose, draft.pose, search),
    );
    if (!same) kept.push(draft);
  }
  return kept;
}

/** Second, exact and last pass over the drafts, and the judgement between what remains. */
async function settle(
  search: CoarseSearch,
  even: Record<Handedness, Float64Array>,
  drafts: Draft[],
  context: RunContext,
): Promise<CoarsePose> {
  const { field, exact, patches, room, size } = search;
  const reach = REACH.exact * size;
  const judged = Math.min(JUDGED, even.proper.length / 3);
  const final: Draft[] = [];
  for (const handedness of ['proper', 'mirrored'] as const) {
    const own = drafts.filter((draft) => draft.handedness === handedness);
    const second = own.map((draft) => {
      const count = Math.min(SECOND, draft.set.points.length / 3);
      const steps = plan(search, 12, REACH.first, REACH.second, false, false);
      const end = descend(field, draft.set.points, count, draft.pose, steps, room);
      const score = explainedSum(field, even[handedness], judged, end.pose, REACH.second * size, room);
      return { ...draft, ...end, score };
    });
    await breathe(context);
    const best = distinct(search, second, KEPT_SECOND);
    for (const free of [false, true]) {
      const third = best.slice(0, free ? KEPT_FREE : KEPT_SECOND).map((draft) => {
        const count = Math.min(THIRD, draft.set.points.length / 3);
        const steps = plan(search, 12, REACH.exact, REACH.last, true, free);
        const end = descend(exact, draft.set.points, count, draft.pose, steps, room);
        const part = explainedPart(exact, even[handedness], Math.min(LAST, judged), end, reach, patches, room);
        return { ...draft, ...end, free, score: part.score };
      });
      await breathe(context);
      for (const draft of distinct(search, third, KEPT_LAST)) {
        const count = Math.min(LAST, even[handedness].length / 3);
        const steps = plan(search, 15, REACH.last, REACH.last, true, free);
        const end = descend(exact, even[handedness], count, draft.pose, steps, room);
        const part = explainedPart(exact, even[handedness], judged, end, reach, patches, room);
        final.push({ ...draft, ...end, score: part.score });
      }
    }
    await breathe(context);
  }
  final.sort((a, b) => merit(b) - merit(a));
  return compare(search, even, final);
}

/**
 * The drafts as candidates, best first, with their residuals over the points the best one explains, each placed at its
 * best on these points. Repeated while that turns up a better one.
 */
function compare(search: CoarseSearch, even: Record<Handedness, Float64Array>, drafts: Draft[]): CoarsePose {
  const { exact, patches, room, size } = search;
  const reach = REACH.exact * size;
  const part = (points: Float64Array, count: number, at: Descent) =>
    explainedPart(exact, points, Math.min(count, points.length / 3), at, reach, patches, room);
  let order = drafts;
  let kept: number[] = [];
  let candidates: (CoarseCandidate & Draft)[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const [winner] = order;
    const { distance } = part(even[winner.handedness], JUDGED, winner);
    const explained = [...distance.keys()].filter((i) => distance[i] >= 0 && distance[i] < reach);
    explained.sort((a, b) => distance[a] - distance[b] || a - b);
    const best = explained.slice(0, Math.max(1, Math.ceil(TRIMMED * explained.length))).sort((a, b) => a - b);
    kept = best.slice(0, LAST);
    candidates = order.map((draft) => {
      const points = pickPoints(even[draft.handedness], kept);
      const steps = plan(search, 15, REACH.last, REACH.last, true, draft.free);
      const end = descend(exact, points, kept.length, draft.pose, steps, room);
      const residual = rootMeanSquare(part(points, kept.length, end).distance, reach);
      const { measured, nominal, score } = part(even[draft.handedness], JUDGED, end);
      return { ...draft, ...end, residual, measured, nominal, score };
    });
    if (candidates.every((c) => merit(c) <= BETTER * merit(candidates[0]))) break;
    order = [...candidates].sort((a, b) => merit(b) - merit(a));
  }
  const [winner] = candidates;
  const rivals = candidates.filter(
    (c) =>
      c.free === winner.free &&
      (c.handedness !== winner.handedness || !isSamePlacement(c.pose, winner.pose, search, ALIKE)),
  );
  const nearest = Math.min(...rivals.map((rival) => rival.residual));
  const all = candidates.map(({ pose, handedness, residual, measured, nominal, offset }) => {
    return { pose, handedness, residual, measured, nominal, offset };
  });
  return {
    ...all[0],
    rivalRatio: rivals.length > 0 ? nearest / Math.max(winner.residual, 1e-9 * size) : null,
    candidates: all,
    reach,
    size,
  };
}

/** Score of a draft; a free offset must earn its keep, because it costs hold along the span. */
function merit(draft: Draft): number {
  return draft.free ? OFFSET_COST * draft.score : draft.score;
}

function rootMeanSquare(distance: Float64Array, most: number): number {
  let squares = 0;
  for (const d of distance) squares += Math.min(Math.abs(d), most) ** 2;
  return Math.sqrt(squares / distance.length);
}

function pickPoints(points: Float64Array, indices: number[]): Float64Array {
  return Float64Array.from({ length: 3 * indices.length }, (_, k) => points[3 * indices[Math.floor(k / 3)] + (k % 3)]);
}

function isClear(pose: CoarsePose): boolean {
  return (pose.rivalRatio ?? Infinity) > CLEAR.ratio && Math.max(pose.nominal, pose.measured) > CLEAR.share;
}

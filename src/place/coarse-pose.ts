import { breathe, type RunContext } from '../model/context.ts';
import type { Pose } from '../model/pose.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import { type DescentRoom, descend, descentRoom, explainedSum } from './coarse-descent.ts';
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
const [FIRST, SECOND, THIRD, LAST] = [150, 400, 600, 2000];
const JUDGED = 3000;
/** Starts kept of each set and handedness, and candidates kept of each handedness after the second pass. */
const [KEPT_FIRST, KEPT_SECOND, KEPT_LAST] = [12, 12, 8];
/** Distances (shares of the size) over which a point counts, pass by pass. */
const REACH = { start: 0.12, first: 0.06, second: 0.03, exact: 0.02, last: 0.01 };
/** A best candidate this good makes the search in all orientations needless. */
const CLEAR = { ratio: 2, nominal: 0.6 };
const TRIMMED = 0.9;

interface Search {
  target: NominalTarget;
  field: LookUp;
  exact: LookUp;
  patches: Patches;
  nominal: PointSet;
  span: number;
  size: number;
  room: DescentRoom;
}

interface Draft {
  pose: Pose;
  handedness: Handedness;
  set: PointSet;
  score: number;
}

/**
 * Returns where a measured part sits on the nominal, with no initial guess, over all orientations and both
 * handednesses, whatever else the scan holds. Thousands of starts (principal axes of the parts of the scan, shifted
 * along the span; all orientations when these give no clear winner) descend by point-to-plane steps in three passes; the
 * winner explains most of both the points and the nominal. Judging the answer is left to the caller.
 *
 * @param points measured points or mesh vertices, x0, y0, z0, … (mm)
 */
export async function findCoarsePose(
  target: NominalTarget,
  points: Float64Array,
  context: RunContext = {},
): Promise<CoarsePose> {
  const search = prepare(target);
  const edge = THIN_SHARE * search.size;
  const proper = thinnedPoints(points, edge);
  const even = { proper, mirrored: mirroredPoints(proper) };
  const sets = aerofoilCandidates(proper, search.size, edge);
  const guided: Draft[] = [];
  for (const set of sets) {
    for (const handedness of ['proper', 'mirrored'] as const) {
      const own = handedness === 'proper' ? set : pointSet(mirroredPoints(set.points));
      guided.push(...firstPass(search, own, handedness, axisStarts(own, search.nominal, search.span)));
    }
    await breathe(context);
  }
  let best = await settle(search, even, guided, context);
  if (!isClear(best)) {
    for (const set of sets.slice(0, 2))
      for (const handedness of ['proper', 'mirrored'] as const) {
        const own = handedness === 'proper' ? set : pointSet(mirroredPoints(set.points));
        guided.push(...firstPass(search, own, handedness, everyWayStarts(own, search.nominal, search.span)));
        await breathe(context);
      }
    best = await settle(search, even, guided, context);
  }
  return best;
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

function prepare(target: NominalTarget): Search {
  const size = nominalSize(target);
  const all = facetLookUp(target);
  const { heights } = target.surface;
  return {
    target,
    field: fieldLookUp(target, all, size),
    exact: facetLookUp(target, 3 * REACH.exact * size),
    patches: nominalPatches(target),
    nominal: pointSet(thinnedPoints(target.mesh.positions, THIN_SHARE * size)),
    span: heights[heights.length - 1] - heights[0],
    size,
    room: descentRoom(JUDGED),
  };
}

function plan(search: Search, steps: number, reachFirst: number, reachLast: number, endPull: number) {
  const { size, nominal } = search;
  return {
    steps,
    reachFirst: reachFirst * size,
    reachLast: reachLast * size,
    centre: nominal.centre,
    radius: size / 4,
    endPull,
    enough: 1e-6 * size,
  };
}

function firstPass(search: Search, set: PointSet, handedness: Handedness, starts: Pose[]): Draft[] {
  const { field, room, size } = search;
  const count = Math.min(FIRST, set.points.length / 3);
  const steps = plan(search, 6, REACH.start, REACH.first, 0.3);
  const drafts = starts.map((start) => {
    const pose = descend(field, set.points, count, start, steps, room);
    return { pose, handedness, set, score: explainedSum(field, set.points, count, pose, REACH.first * size, room) };
  });
  return distinct(search, drafts, KEPT_FIRST);
}

/** Best drafts first, those that mean the same placement once. */
function distinct(search: Search, drafts: Draft[], most: number): Draft[] {
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
  search: Search,
  even: Record<Handedness, Float64Array>,
  drafts: Draft[],
  context: RunContext,
): Promise<CoarsePose> {
  const { field, exact, patches, room, size } = search;
  const reach = REACH.exact * size;
  const judged = Math.min(JUDGED, even.proper.length / 3);
  const final: (Draft & Pick<CoarseCandidate, 'measured' | 'nominal'>)[] = [];
  for (const handedness of ['proper', 'mirrored'] as const) {
    const own = drafts.filter((draft) => draft.handedness === handedness);
    const second = own.map((draft) => {
      const count = Math.min(SECOND, draft.set.points.length / 3);
      const pose = descend(field, draft.set.points, count, draft.pose, plan(search, 12, 0.06, 0.025, 0), room);
      const score = explainedSum(field, even[handedness], judged, pose, REACH.second * size, room);
      return { ...draft, pose, score };
    });
    await breathe(context);
    const third = distinct(search, second, KEPT_SECOND).map((draft) => {
      const count = Math.min(THIRD, draft.set.points.length / 3);
      const steps = plan(search, 12, REACH.exact, REACH.last, 0);
      const pose = descend(exact, draft.set.points, count, draft.pose, steps, room);
      const part = explainedPart(exact, even[handedness], judged, pose, reach, patches, room);
      return { ...draft, ...part, pose, score: Math.sqrt(part.measured * part.nominal) };
    });
    await breathe(context);
    for (const draft of distinct(search, third, KEPT_LAST)) {
      const count = Math.min(LAST, even[handedness].length / 3);
      const steps = plan(search, 15, REACH.last, REACH.last, 0);
      const pose = descend(exact, even[handedness], count, draft.pose, steps, room);
      const part = explainedPart(exact, even[handedness], judged, pose, reach, patches, room);
      final.push({ ...draft, ...part, pose, score: Math.sqrt(part.measured * part.nominal) });
    }
    await breathe(context);
  }
  final.sort((a, b) => b.score - a.score);
  return compare(search, even, final, reach);
}

/** Residuals of all candidates over the points the winner explains, each placed at its best on these points. */
function compare(
  search: Search,
  even: Record<Handedness, Float64Array>,
  drafts: (Draft & Pick<CoarseCandidate, 'measured' | 'nominal'>)[],
  reach: number,
): CoarsePose {
  const { exact, patches, room, size } = search;
  const [winner] = drafts;
  const own = even[winner.handedness];
  const judged = Math.min(JUDGED, own.length / 3);
  const { distance } = explainedPart(exact, own, judged, winner.pose, reach, patches, room);
  const explained = [...distance.keys()].filter((i) => distance[i] >= 0 && distance[i] < reach);
  explained.sort((a, b) => distance[a] - distance[b] || a - b);
  const kept = explained.slice(0, Math.max(1, Math.ceil(TRIMMED * explained.length))).sort((a, b) => a - b);
  const candidates = drafts.map((draft) => {
    const points = Float64Array.from({ length: 3 * kept.length }, (_, k) => {
      return even[draft.handedness][3 * kept[Math.floor(k / 3)] + (k % 3)];
    });
    const pose = descend(exact, points, kept.length, draft.pose, plan(search, 15, REACH.exact, REACH.last, 0), room);
    const part = explainedPart(exact, points, kept.length, pose, reach, patches, room);
    let squares = 0;
    for (const d of part.distance) squares += Math.min(Math.abs(d), reach) ** 2;
    const residual = Math.sqrt(squares / kept.length);
    return { pose, handedness: draft.handedness, residual, measured: draft.measured, nominal: draft.nominal };
  });
  const rivals = candidates
    .slice(1)
    .filter(
      (other) =>
        other.handedness !== candidates[0].handedness || !isSamePlacement(other.pose, candidates[0].pose, search),
    );
  const nearest = Math.min(...rivals.map((rival) => rival.residual));
  return {
    ...candidates[0],
    rivalRatio: rivals.length > 0 ? nearest / Math.max(candidates[0].residual, 1e-9 * size) : null,
    candidates,
    reach,
    size,
  };
}

function isClear(pose: CoarsePose): boolean {
  return (pose.rivalRatio ?? Infinity) > CLEAR.ratio && pose.nominal > CLEAR.nominal;
}

import { CamberwrightError, type Warning, warning } from '../error.ts';
import { evaluateOutline } from '../fit/outline-evaluate.ts';
import { findCrossing } from '../load/section-crossing.ts';
import { median } from '../math/median.ts';
import { meanCurvature, turnReach } from './path-turn.ts';
import type { SectionPath } from './section-path.ts';

/** Half angle of the edge whose mean radius is held against the ball's (rad). */
const EDGE_ANGLE = Math.PI / 4;
/** A centre path may not turn tighter than this share of the tip radius. */
const LEAST_SHARE = 0.9;
/** Reach (shares of the tip radius) over which the path's curvature is averaged: hollows, sharp edges. */
const HOLLOW_REACH = 0.1;
const SHARP_REACH = 0.25;
/** A hollow of the path tighter than half the tip radius is a place where the ball touches twice. */
const HOLLOW = 2;
/**
 * An edge sharper than this share of the tip radius holds the ball at one point while its centre turns. A stretch of the
 * path is one edge while it bends at least as much as `TIGHT`, in the ball's own curvature.
 */
const SHARP = 0.03;
const TIGHT = 0.9;
/** Places of the path looked at for crossing sides; where it bends more than this share of the ball it is no side. */
const SAMPLES = 800;
const SIDE_BEND = 0.5;

/** Marks of points: in a hollow that the ball touches twice, and about an edge that it only turns round. */
export const HOLLOW_POINT = 1;
export const SHARP_POINT = 2;

/** What of a path can be carried onto the part. */
export interface PathJudgement {
  /** What each point of the path is: 0, or one of the marks. */
  marks: Uint8Array;
  warnings: Warning[];
}

/**
 * Finds the points of a centre path that no single contact explains: hollows tighter than the ball, and edges round
 * which it only turns.
 * @param tightEdges what to do where the path turns tighter than the ball at an edge
 * @throws `probe/not-centres` when the path cannot be that of a ball of this radius round a solid part
 */
export function judgePath(path: SectionPath, tipRadius: number, tightEdges: 'refuse' | 'warn'): PathJudgement {
  const tight = tightEdge(path, tipRadius);
  if (tight !== null && tightEdges === 'refuse') throw tight;
  refuseCrossing(path, tipRadius);
  const marks = new Uint8Array(path.parameter.length);
  const counts = { hollow: markHollows(path, tipRadius, marks), edges: markSharpEdges(path, tipRadius, marks) };
  const where = `section ${path.id}`;
  const warnings: Warning[] = [];
  if (tight !== null) warnings.push(warning(tight.code, tight.message, tight.where, tight.remedy));
  if (counts.hollow > 0) {
    const message = `At ${counts.hollow} points the ball of radius ${tipRadius} mm touches two sides of a hollow; they are left out.`;
    warnings.push(warning('probe/double-contact', message, where, 'Measure the hollow with a smaller tip.'));
  }
  if (counts.edges > 0) {
    const least = Number((SHARP * tipRadius).toPrecision(2));
    const message = `The ball of radius ${tipRadius} mm turns round an edge sharper than ${least} mm; the edge is taken as a corner.`;
    warnings.push(warning('probe/sharp-edge', message, where, 'Measure the edge with a smaller tip.'));
  }
  return { marks, warnings };
}

/** Marks the points whose feet lie where the path turns inwards too tightly; returns their number. */
function markHollows(path: SectionPath, tipRadius: number, marks: Uint8Array): number {
  let count = 0;
  for (const [i, t] of path.parameter.entries()) {
    if (isOpenEnd(path, i)) continue;
    if (meanCurvature(path.outline, t, HOLLOW_REACH * tipRadius) * tipRadius >= -HOLLOW) continue;
    marks[i] = HOLLOW_POINT;
    count++;
  }
  return count;
}

/** Marks whole stretches along which the path turns about as tightly as the ball itself; returns their number. */
function markSharpEdges(path: SectionPath, tipRadius: number, marks: Uint8Array): number {
  const bend = path.parameter.map((t) => meanCurvature(path.outline, t, SHARP_REACH * tipRadius) * tipRadius);
  let edges = 0;
  for (let from = 0; from < bend.length; from++) {
    if (isOpenEnd(path, from) || bend[from] < TIGHT) continue;
    let to = from;
    while (to < bend.length && bend[to] >= TIGHT && !isOpenEnd(path, to)) to++;
    if (median(bend.subarray(from, to)) > 1 - SHARP) {
      marks.fill(SHARP_POINT, from, to);
      edges++;
    }
    from = to;
  }
  return edges;
}

/** The straight line that closes an open outline is no path. */
function isOpenEnd(path: SectionPath, i: number): boolean {
  return !path.closed && (i === 0 || i === path.parameter.length - 1);
}

/** The finding that the path turns tighter than the ball round an edge; null when it does not. */
function tightEdge(path: SectionPath, tipRadius: number): CamberwrightError | null {
  if (!path.closed) return null;
  const { outline, edges } = path;
  for (const [name, at] of [
    ['leading', edges.leading],
    ['trailing', edges.trailing],
  ] as const) {
    const reach = turnReach(outline, at, EDGE_ANGLE);
    const radius = reach.length / reach.turn;
    if (radius >= LEAST_SHARE * tipRadius) continue;
    const message = `Round the ${name} edge the points turn with a radius of ${radius.toFixed(3)} mm; the centre of a ball cannot turn tighter than the ball's radius, ${tipRadius} mm.`;
    return notCentres(path, message);
  }
  return null;
}

/** The sides of the path, moved in by the tip radius, must keep their way round and not cross. */
function refuseCrossing(path: SectionPath, tipRadius: number): void {
  const { outline } = path;
  const out = new Float64Array(8);
  const kept: number[] = [];
  for (let k = 0; k < SAMPLES; k++) {
    const t = outline.knots[0] + (k / SAMPLES) * outline.period;
    const bend = Math.abs(meanCurvature(outline, t, SHARP_REACH * tipRadius)) * tipRadius;
    if (bend > SIDE_BEND) continue;
    evaluateOutline(outline, t, out);
    const speed = Math.hypot(out[2], out[3]);
    kept.push(out[0] - (tipRadius * out[3]) / speed, out[1] + (tipRadius * out[2]) / speed);
  }
  const moved = Float64Array.from(kept);
  if (signedArea(moved) > 0 && findCrossing(moved).found === null) return;
  throw notCentres(path, `Moved in by the tip radius of ${tipRadius} mm, the two sides of the path cross.`);
}

function signedArea(points: Float64Array): number {
  let area = 0;
  for (let i = 0, j = points.length - 2; i < points.length; j = i, i += 2) {
    area += points[j] * points[i + 1] - points[i] * points[j + 1];
  }
  return area / 2;
}

function notCentres(path: SectionPath, message: string): CamberwrightError {
  return new CamberwrightError('probe/not-centres', message, {
    where: `section ${path.id}`,
    remedy:
      'Read the points as compensated (--probe compensated) if they already lie on the part, or correct the tip radius.',
  });
}

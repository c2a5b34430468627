import { cross3, length3, subtract3, unit3, type Vec3 } from '../math/vec3.ts';
import type { Cloud } from '../model/shape.ts';
import {
  FACING,
  type Sphere,
  staysNear,
  type TargetLine,
  type Touch,
  type TouchFinder,
  TUBE_SHARE,
} from './surface-touch.ts';
import { ballOnPoints } from './surface-touch-ball.ts';
import { ballOnPatch, fitPatch, type LinePlace, type LinePoints, squareFrom } from './surface-touch-patch.ts';

/** Points a patch starts with, needs at least and grows to; its largest radius, share of the shape's size. */
const POINTS = { first: 16, least: 12, most: 1000 };
const RADIUS_MOST = 0.02;
/** Patches grow by this factor while what they tell agrees within so many standard uncertainties. */
const GROWTH = Math.SQRT2;
const AGREE = 2;
/** A patch whose points lie farther to one side than this share of its radius is at the rim of what was measured. */
const ASIDE_MOST = 0.3;
/** Patches of a ball's contact tried until the contact stays. */
const CONTACTS = 60;

/**
 * Returns the finder of a cloud: a smooth patch through the points about the line, met by the line or touched by a
 * ball. The patch grows while its larger and smaller ones agree (intersection of confidence intervals, Goldenshluger &
 * Nemirovski 1997), so that noise is averaged where the surface is smooth and an edge keeps its form. Of several sheets
 * along the line the one nearest to the target counts; points with normals count when they face the target.
 * @param ball radius of the ball (mm); 0: a point
 * @param rough the ball rests on the points as they are, without a patch
 */
export function cloudTouch(cloud: Cloud, ball: number, sphere: Sphere, rough = false): TouchFinder {
  const margin = TUBE_SHARE * sphere.radius;
  const most = 2 * RADIUS_MOST * sphere.radius;
  let axis: TargetLine | null = null;
  let near = new Uint32Array(0);
  let chosen: { at: Vec3; radius: number } | null = null;
  return (line) => {
    if (axis === null || !staysNear(line, axis, sphere, margin)) {
      axis = line;
      near = pointsNear(cloud, line, margin + most + ball);
    }
    const points = inLineFrame(cloud.positions, near, line);
    const nearest = nearestPoint(points);
    if (nearest === null) return null;
    const first = ball > 0 ? ballOnPoints(points, ball) : null;
    const beside: Touch = { along: nearest.s, meets: false, u: 0 };
    if (rough) return first === null ? beside : { along: first.centre - ball, meets: true, u: 0 };
    const kept = chosen !== null && length3(subtract3(chosen.at, line.point)) < 0.1 * chosen.radius ? chosen : null;
    let from = first === null ? nearest : { x: points.x[first.on], y: points.y[first.on], s: points.s[first.on] };
    const radius = kept?.radius ?? chooseRadius(points, from, most);
    for (let k = 0; k < CONTACTS && radius !== null; k++) {
      const patch = fitPatch(points, from, radius);
      const rest = patch === null ? null : ballOnPatch(patch, from, ball);
      if (patch === null || rest === null || patch.aside > ASIDE_MOST) return beside;
      const shift = Math.hypot(rest.x - from.x, rest.y - from.y, rest.s - from.s);
      from = rest;
      if (shift > 1e-11) continue;
      chosen = kept ?? { at: line.point, radius };
      const centre = rest.s + Math.sqrt(Math.max(0, ball ** 2 - rest.x ** 2 - rest.y ** 2));
      return { along: centre - ball, meets: true, u: patch.u };
    }
    return beside;
  };
}

/** Numbers of the points within `reach` of a line; with normals, of those that face the target. */
function pointsNear(
  { positions, normals }: Cloud,
  { point, normal }: TargetLine,
  reach: number,
): Uint32Array<ArrayBuffer> {
  const near: number[] = [];
  const [nx, ny, nz] = normal;
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i] - point[0];
    const y = positions[i + 1] - point[1];
    const z = positions[i + 2] - point[2];
    const along = x * nx + y * ny + z * nz;
    if (!(x * x + y * y + z * z - along * along <= reach * reach)) continue;
    if (normals && normals[i] * nx + normals[i + 1] * ny + normals[i + 2] * nz < FACING) continue;
    near.push(i / 3);
  }
  return Uint32Array.from(near);
}

function inLineFrame(positions: Float64Array, near: Uint32Array, { point, normal }: TargetLine): LinePoints {
  const least = [0, 1, 2].reduce((best, i) => (Math.abs(normal[i]) < Math.abs(normal[best]) ? i : best), 0);
  const e = unit3(
    cross3(
      normal,
      [0, 1, 2].map((i) => (i === least ? 1 : 0)),
    ),
  );
  const f = cross3(normal, e);
  const count = near.length;
  const out = { x: new Float64Array(count), y: new Float64Array(count), s: new Float64Array(count) };
  for (let k = 0; k < count; k++) {
    const i = 3 * near[k];
    const a = positions[i] - point[0];
    const b = positions[i + 1] - point[1];
    const c = positions[i + 2] - point[2];
    out.x[k] = a * e[0] + b * e[1] + c * e[2];
    out.y[k] = a * f[0] + b * f[1] + c * f[2];
    out.s[k] = a * normal[0] + b * normal[1] + c * normal[2];
  }
  return out;
}

/** The point nearest to the target; null when there is none. */
function nearestPoint(points: LinePoints): LinePlace | null {
  const { s } = points;
  const target: LinePlace = { x: 0, y: 0, s: 0 };
  let [best, nearest] = [-1, Infinity];
  for (let k = 0; k < s.length; k++) {
    const square = squareFrom(points, k, target);
    if (square < nearest) [best, nearest] = [k, square];
  }
  return best < 0 ? null : { x: 0, y: 0, s: s[best] };
}

/** The largest radius of a patch about a place that agrees with all smaller ones; null when there are too few points. */
function chooseRadius(points: LinePoints, place: LinePlace, most: number): number | null {
  const squares: number[] = [];
  for (let k = 0; k < points.s.length; k++) {
    const square = squareFrom(points, k, place);
    if (square < most * most) squares.push(square);
  }
  if (squares.length < POINTS.least) return null;
  const sorted = Float64Array.from(squares).sort();
  const first = Math.sqrt(sorted[Math.min(POINTS.first, sorted.length) - 1]) * 1.01;
  const last = sorted.length > POINTS.most ? Math.sqrt(sorted[POINTS.most]) : 1.01 * most;
  let chosen: number | null = null;
  let [low, high] = [-Infinity, Infinity];
  for (let radius = first; radius <= Math.max(first, last); radius *= GROWTH) {
    const patch = fitPatch(points, place, radius);
    if (patch === null) continue;
    low = Math.max(low, patch.form[0] - AGREE * patch.u);
    high = Math.min(high, patch.form[0] + AGREE * patch.u);
    if (low > high) break;
    chosen = radius;
  }
  return chosen;
}

import { dot3, length3, subtract3, type Vec3 } from '../math/vec3.ts';
import { FACING, type TargetLine, type Touch } from './surface-touch.ts';
import { type Facet, isInside } from './surface-touch-facet.ts';
import type { LinePoints } from './surface-touch-patch.ts';

/** The stretch of a line on which a ball's centre is nearer than the radius to something (mm along the line). */
interface Stretch {
  from: number;
  to: number;
  /** True when the ball that rests at `to` is outside the material and touches a side that faces the target. */
  rests: boolean;
  /** Number of what it touches. */
  on: number;
}

/**
 * Returns where a ball guided on a line rests on triangles, exactly. About each triangle the centres nearer than the
 * radius fill a convex body (its faces, edges and corners grown by the radius), which the line crosses in one stretch;
 * the ball is free outside all of them and rests at the outer end of a union of stretches. The one nearest to the
 * ball's nominal place is taken; null when the ball meets none.
 */
export function ballTouch(facets: readonly Facet[], line: TargetLine, radius: number): Touch | null {
  const stretches: Stretch[] = [];
  const least = outerOfCorners(facets, line, radius);
  for (const facet of facets) {
    const off = subtract3(facet.corners[0], line.point);
    const along = dot3(off, line.normal);
    const apart = Math.max(0, Math.sqrt(Math.max(0, dot3(off, off) - along * along)) - facet.side);
    if (apart > radius || along + facet.side + Math.sqrt(radius * radius - apart * apart) < least) continue;
    const stretch = stretchOf(facet, line, radius);
    if (stretch !== null) stretches.push(stretch);
  }
  const end = restingEnd(stretches, radius);
  return end === null ? null : { along: end.to - radius, meets: true, u: 0 };
}

/** Where the ball would rest on the first corners alone: what ends lower need not be looked at. */
function outerOfCorners(facets: readonly Facet[], { point, normal }: TargetLine, radius: number): number {
  const stretches: Stretch[] = [];
  facets.forEach(({ corners, normal: outward }, on) => {
    const off = subtract3(corners[0], point);
    const along = dot3(off, normal);
    const square = radius * radius - dot3(off, off) + along * along;
    const half = Math.sqrt(Math.max(0, square));
    const rests = half >= FACING * radius && dot3(outward, normal) > 0;
    if (square > 0) stretches.push({ from: along - half, to: along + half, rests, on });
  });
  return restingEnd(stretches, radius)?.to ?? -Infinity;
}

/** Returns the point of a cloud that a ball guided on the line rests on, and the ball's centre along the line. */
export function ballOnPoints({ x, y, s }: LinePoints, radius: number): { on: number; centre: number } | null {
  const stretches: Stretch[] = [];
  for (let k = 0; k < s.length; k++) {
    const square = radius * radius - x[k] * x[k] - y[k] * y[k];
    if (!(square > 0)) continue;
    const half = Math.sqrt(square);
    stretches.push({ from: s[k] - half, to: s[k] + half, rests: half >= FACING * radius, on: k });
  }
  const end = restingEnd(stretches, radius);
  return end === null ? null : { on: end.on, centre: end.to };
}

/** The outer end of a union of stretches that is nearest to the radius and on which a ball rests. */
function restingEnd(stretches: Stretch[], radius: number): Stretch | null {
  stretches.sort((a, b) => a.from - b.from);
  let best: Stretch | null = null;
  for (let k = 0; k < stretches.length; ) {
    let end = stretches[k];
    for (k++; k < stretches.length && stretches[k].from <= end.to; k++)
      if (stretches[k].to > end.to) end = stretches[k];
    if (end.rests && (best === null || Math.abs(end.to - radius) < Math.abs(best.to - radius))) best = end;
  }
  return best;
}

function stretchOf(facet: Facet, { point, normal }: TargetLine, radius: number): Stretch | null {
  let [from, to] = [Infinity, -Infinity];
  let contact: Vec3 = [0, 0, 0];
  const at = (s: number): Vec3 => [point[0] + s * normal[0], point[1] + s * normal[1], point[2] + s * normal[2]];
  const add = (s: number, foot: Vec3) => {
    from = Math.min(from, s);
    if (s > to) {
      to = s;
      contact = foot;
    }
  };
  const { corners } = facet;
  for (let k = 0; k < 3; k++) {
    const corner = corners[k];
    const w = subtract3(point, corner);
    const middle = -dot3(w, normal);
    const half = radius * radius - dot3(w, w) + middle * middle;
    if (half >= 0) for (const sign of [-1, 1]) add(middle + sign * Math.sqrt(half), corner);
    const side = subtract3(corners[(k + 1) % 3], corner);
    const length = length3(side);
    const e: Vec3 = [side[0] / length, side[1] / length, side[2] / length];
    const [lean, start] = [dot3(normal, e), dot3(w, e)];
    const a = 1 - lean * lean;
    const b = dot3(w, normal) - start * lean;
    const square = b * b - a * (dot3(w, w) - start * start - radius * radius);
    if (a < 1e-12 || square < 0) continue;
    for (const sign of [-1, 1]) {
      const s = (-b + sign * Math.sqrt(square)) / a;
      const t = start + s * lean;
      if (t >= 0 && t <= length) add(s, [corner[0] + t * e[0], corner[1] + t * e[1], corner[2] + t * e[2]]);
    }
  }
  const lean = dot3(facet.normal, normal);
  if (Math.abs(lean) > 1e-12) {
    const above = dot3(facet.normal, subtract3(point, corners[0]));
    for (const sign of [-1, 1]) {
      const s = (sign * radius - above) / lean;
      const centre = at(s);
      const foot = [0, 1, 2].map((i) => centre[i] - sign * radius * facet.normal[i]) as Vec3;
      if (isInside(facet, foot)) add(s, foot);
    }
  }
  if (to === -Infinity) return null;
  const outwards = subtract3(at(to), contact);
  const rests = dot3(outwards, normal) >= FACING * radius && dot3(outwards, facet.normal) >= -1e-9 * radius;
  return { from, to, rests, on: -1 };
}

import { cross3, dot3, subtract3, type Vec3 } from '../math/vec3.ts';

/** A triangle's corners, its unit outward normal and the longer side at its first corner (mm). */
export interface Facet {
  corners: [Vec3, Vec3, Vec3];
  normal: Vec3;
  side: number;
}

/** Slack on the sides of a triangle, so that no line slips through between two of them. */
const SIDE_SLACK = 1e-10;

/** True when a point of the triangle's plane lies in the triangle. */
export function isInside({ corners, normal }: Facet, p: Vec3): boolean {
  const [a, b, c] = corners;
  const double = dot3(cross3(subtract3(b, a), subtract3(c, a)), normal);
  return [
    [a, b],
    [b, c],
    [c, a],
  ].every(([from, to]) => dot3(cross3(subtract3(to, from), subtract3(p, from)), normal) >= -SIDE_SLACK * double);
}

import { dot3, length3, subtract3, type Vec3 } from '../math/vec3.ts';

/** A target's line in the frame of the measured surface. */
export interface TargetLine {
  point: Vec3;
  /** Unit vector out of the material. */
  normal: Vec3;
}

/** Where a measured surface is met on a target's line. */
export interface Touch {
  /** Length along the line from the target (mm), + outwards; a ball's is that of its foot side: centre − radius. */
  along: number;
  /** False where the line does not meet the surface and the nearest place beside it stands in. */
  meets: boolean;
  /** Standard uncertainty of `along` from the surface's own noise (mm). */
  u: number;
}

/** Finds the touch of a line; null when no surface that faces the target is near. */
export type TouchFinder = (line: TargetLine) => Touch | null;

/** A surface is a target's own when its normal is within 60° of the target's. */
export const FACING = 0.5;

/** Radius of the tube about a line in which its surface is kept at hand, share of the shape's size. */
export const TUBE_SHARE = 0.1;

/** A sphere about a shape: no part of a line outside it matters. */
export interface Sphere {
  centre: Vec3;
  radius: number;
}

/** Returns the sphere about the box of points x0, y0, z0, … (mm). */
export function sphereAbout(positions: Float64Array): Sphere {
  const low: Vec3 = [Infinity, Infinity, Infinity];
  const high: Vec3 = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    const axis = i % 3;
    if (positions[i] < low[axis]) low[axis] = positions[i];
    if (positions[i] > high[axis]) high[axis] = positions[i];
  }
  const centre: Vec3 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2];
  return { centre, radius: length3(subtract3(high, centre)) };
}

/** Returns true when a line stays within `margin` of an axis inside the sphere: what is kept about the axis serves. */
export function staysNear(line: TargetLine, axis: TargetLine, sphere: Sphere, margin: number): boolean {
  const middle = dot3(subtract3(sphere.centre, line.point), line.normal);
  return [middle - sphere.radius, middle + sphere.radius].every((s) => {
    const p = [0, 1, 2].map((i) => line.point[i] + s * line.normal[i] - axis.point[i]);
    const t = dot3(p, axis.normal);
    return dot3(p, p) - t * t <= margin * margin;
  });
}

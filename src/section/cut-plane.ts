import { cross3, dot3, unit3, type Vec3 } from '../math/vec3.ts';
import type { SectionCut } from './section-cut.ts';

/** An axis this close to the normal (sine of the angle) has no direction in the plane. */
const ALONG_NORMAL = 1e-6;

/**
 * Returns the cut by a plane. Its x axis lies along the projection of part +X onto the plane, of +Y where X is the normal.
 * @param point any point of the plane (mm)
 * @param normal of any length, not across Z; either sense
 */
export function planeCut(
  id: string,
  point: Readonly<Vec3>,
  normal: Readonly<Vec3>,
  record: SectionCut['record'],
): SectionCut {
  const given = unit3(normal);
  const n: Vec3 = given[2] < 0 ? [-given[0], -given[1], -given[2]] : given;
  const ex = axisInPlane(n);
  const ey = cross3(n, ex);
  const heightOver = (x: number, y: number): number =>
    point[2] - (n[0] * (x - point[0]) + n[1] * (y - point[1])) / n[2];
  const height = heightOver(0, 0);
  return {
    id,
    record,
    height,
    heightOver,
    level: (p, gradient) => {
      gradient.set(n);
      return n[0] * (p[0] - point[0]) + n[1] * (p[1] - point[1]) + n[2] * (p[2] - point[2]);
    },
    develop: (p, out) => {
      const z = p[2] - height;
      out[0] = ex[0] * p[0] + ex[1] * p[1] + ex[2] * z;
      out[1] = ey[0] * p[0] + ey[1] * p[1] + ey[2] * z;
    },
    undevelop: (x, y, out) => {
      for (let k = 0; k < 3; k++) out[k] = ex[k] * x + ey[k] * y;
      out[2] += height;
    },
  };
}

function axisInPlane(n: Vec3): Vec3 {
  const along = dot3(n, [1, 0, 0]);
  const flat: Vec3 = [1 - along * n[0], -along * n[1], -along * n[2]];
  if (Math.hypot(...flat) > ALONG_NORMAL) return unit3(flat);
  return unit3([-n[1] * n[0], 1 - n[1] * n[1], -n[1] * n[2]]);
}

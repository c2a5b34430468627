import { cross3, dot3, length3, subtract3, unit3, type Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../model/shape.ts';
import {
  FACING,
  type Sphere,
  staysNear,
  type TargetLine,
  type Touch,
  type TouchFinder,
  TUBE_SHARE,
} from './surface-touch.ts';
import { ballTouch } from './surface-touch-ball.ts';
import { type Facet, isInside } from './surface-touch-facet.ts';

/**
 * Returns the finder of a mesh: the crossing of line and triangles that lies nearest to the target, or with a ball the
 * place where it rests on them. Only triangles that face the target count. They are gathered in a tube about the line
 * and gathered anew when the line leaves it.
 * @param ball radius of the ball (mm); 0: a point
 */
export function meshTouch(mesh: Mesh, ball: number, sphere: Sphere): TouchFinder {
  const margin = 2 * TUBE_SHARE * sphere.radius;
  let axis: TargetLine | null = null;
  let facets: Facet[] = [];
  return (line) => {
    if (axis === null || !staysNear(line, axis, sphere, margin)) {
      axis = line;
      facets = facetsNear(mesh, line, margin + ball);
    }
    return (ball > 0 ? ballTouch(facets, line, ball) : crossing(facets, line)) ?? beside(facets, line);
  };
}

/** Triangles that may come within `reach` of a line: judged by one corner and the longer side from there. */
function facetsNear({ positions, triangles }: Mesh, { point, normal }: TargetLine, reach: number): Facet[] {
  const [qx, qy, qz] = point;
  const [nx, ny, nz] = normal;
  const facets: Facet[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const x = positions[a] - qx;
    const y = positions[a + 1] - qy;
    const z = positions[a + 2] - qz;
    const along = x * nx + y * ny + z * nz;
    const square = x * x + y * y + z * z - along * along;
    let side = 0;
    for (const other of [b, c]) {
      const ux = positions[other] - positions[a];
      const uy = positions[other + 1] - positions[a + 1];
      const uz = positions[other + 2] - positions[a + 2];
      side = Math.max(side, ux * ux + uy * uy + uz * uz);
    }
    side = Math.sqrt(side);
    const far = reach + side;
    if (!(square <= far * far)) continue;
    const corners = [a, b, c].map((i) => [positions[i], positions[i + 1], positions[i + 2]]) as Facet['corners'];
    const outward = unit3(cross3(subtract3(corners[1], corners[0]), subtract3(corners[2], corners[0])));
    if (length3(outward) > 0) facets.push({ corners, normal: outward, side });
  }
  return facets;
}

function crossing(facets: readonly Facet[], { point, normal }: TargetLine): Touch | null {
  let best = Infinity;
  for (const facet of facets) {
    const lean = dot3(facet.normal, normal);
    if (lean < FACING) continue;
    const along = dot3(facet.normal, subtract3(facet.corners[0], point)) / lean;
    if (Math.abs(along) >= Math.abs(best)) continue;
    const p: Vec3 = [point[0] + along * normal[0], point[1] + along * normal[1], point[2] + along * normal[2]];
    if (isInside(facet, p)) best = along;
  }
  return best === Infinity ? null : { along: best, meets: true, u: 0 };
}

/** The corner of a facing triangle nearest to the target, in place of a touch. */
function beside(facets: readonly Facet[], { point, normal }: TargetLine): Touch | null {
  let nearest = Infinity;
  let along = 0;
  for (const facet of facets) {
    if (dot3(facet.normal, normal) < FACING) continue;
    for (const corner of facet.corners) {
      const from = subtract3(corner, point);
      const square = dot3(from, from);
      if (square >= nearest) continue;
      nearest = square;
      along = dot3(from, normal);
    }
  }
  return nearest === Infinity ? null : { along, meets: false, u: 0 };
}

import { type BladeLaw, formAt, nominalBlade } from '../../samples/blade.ts';
import { outlinePoint } from '../../samples/disk-envelope.ts';
import { TRAILING } from '../../samples/section-form.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { loftSurface } from '../../src/fit/loft-surface.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { movePoints, randomRotation } from '../../src/math/rigid.ts';
import type { Pose } from '../../src/model/pose.ts';
import { makeNominalTarget, type NominalTarget } from '../../src/spatial/nominal-target.ts';

/** The smooth nominal through exact sections of a closed-form blade. */
export function bladeTarget(blade: BladeLaw = nominalBlade(), sections = 25, pointsPerSection = 400): NominalTarget {
  const heights = evenHeights(sections, 0, blade.span);
  const place = new Float64Array(7);
  const table = exactSections(heights, pointsPerSection, blade).sections;
  const loft = table.map(({ id, height, points }) => {
    const outline = interpolateOutline(points);
    outlinePoint(formAt(blade, height).form, TRAILING, 0, place);
    const leading = outlineFoot(outline, points[0], points[1]).t;
    const trailing = outlineFoot(outline, place[0], place[1]).t;
    return { id, height, outline, edges: { leading, trailing, firstSide: 'pressure' as const } };
  });
  return makeNominalTarget(loftSurface(loft));
}

/** A seeded motion nominal → measured over all orientations, shifts of up to 200 mm. */
export function randomPose(uniform: () => number): Pose {
  const rotation = randomRotation(uniform);
  return { rotation, translation: Float64Array.from({ length: 3 }, () => 400 * (uniform() - 0.5)) };
}

/** Points of several clouds in one, moved. */
export function joined(pose: Pose, ...clouds: Float64Array[]): Float64Array {
  const all = new Float64Array(clouds.reduce((sum, c) => sum + c.length, 0));
  let at = 0;
  for (const c of clouds) {
    all.set(c, at);
    at += c.length;
  }
  return movePoints(pose, all);
}

/** A square table of points (mm): centre, half width, height. */
export function table(centre: [number, number, number], half: number, step: number): Float64Array {
  const out: number[] = [];
  for (let x = -half; x <= half; x += step)
    for (let y = -half; y <= half; y += step) out.push(centre[0] + x, centre[1] + y, centre[2]);
  return Float64Array.from(out);
}

import { evaluateOutline, outlineKnotSpans } from '../fit/outline-evaluate.ts';
import type { Outline } from '../model/outline.ts';

/** Area, perimeter, centroid and second moments of a section about its centroid; mm, mm², mm⁴, radians. */
export interface AreaProperties {
  area: number;
  perimeter: number;
  centroidX: number;
  centroidY: number;
  /** ∫y² dA, ∫x² dA and ∫xy dA about the centroid. */
  ixx: number;
  iyy: number;
  ixy: number;
  /** Direction of the long principal axis from +X, within (−π/2, π/2]. */
  axis: number;
  /**
   * Root of ∫ g² ds for the first-order change ∫ g d ds of each quantity when the outline moves by d along its outward
   * normal: multiply by s √(perimeter / points) for its standard uncertainty.
   */
  gain: { area: number; perimeter: number; centroidX: number; centroidY: number; axis: number };
}

/** 6-point Gauss-Legendre rule on [−1, 1], positive half: exact up to degree 11, that of ∫x²y dy of a cubic. */
const NODES = [0.2386191860831969, 0.6612093864662645, 0.932469514203152];
const WEIGHTS = [0.467913934572691, 0.3607615730481386, 0.1713244923791704];
const out = new Float64Array(8);

/** Returns the area properties of a closed outline by Green's theorem, each polynomial span integrated by Gauss rules. */
export function areaProperties(outline: Outline): AreaProperties {
  const knots = outlineKnotSpans(outline);
  const reference = [0, 0];
  for (let i = 0; i < outline.controlX.length; i++) {
    reference[0] += outline.controlX[i] / outline.controlX.length;
    reference[1] += outline.controlY[i] / outline.controlY.length;
  }
  const sums = new Float64Array(7);
  eachNode(outline, knots, (w) => {
    const x = out[0] - reference[0];
    const y = out[1] - reference[1];
    const dx = out[2] * w;
    const dy = out[3] * w;
    sums[0] += 0.5 * (x * dy - y * dx);
    sums[1] += Math.hypot(dx, dy);
    sums[2] += 0.5 * x * x * dy;
    sums[3] -= 0.5 * y * y * dx;
    sums[4] -= (y * y * y * dx) / 3;
    sums[5] += (x * x * x * dy) / 3;
    sums[6] += 0.5 * x * x * y * dy;
  });
  const [area, perimeter, mx, my] = sums;
  const cx = mx / area;
  const cy = my / area;
  const ixx = sums[4] - area * cy * cy;
  const iyy = sums[5] - area * cx * cx;
  const ixy = sums[6] - area * cx * cy;
  const spread = (iyy - ixx) ** 2 + 4 * ixy * ixy;
  const gains = new Float64Array(5);
  eachNode(outline, knots, (w) => {
    const x = out[0] - reference[0] - cx;
    const y = out[1] - reference[1] - cy;
    const speed = Math.hypot(out[2], out[3]);
    const ds = speed * w;
    const curvature = (out[2] * out[5] - out[3] * out[4]) / speed ** 3;
    const turn = spread > 0 ? ((iyy - ixx) * x * y - ixy * (x * x - y * y)) / spread : 0;
    gains[0] += ds;
    gains[1] += curvature * curvature * ds;
    gains[2] += ((x * x) / (area * area)) * ds;
    gains[3] += ((y * y) / (area * area)) * ds;
    gains[4] += turn * turn * ds;
  });
  const [gArea, gPerimeter, gX, gY, gAxis] = gains.map(Math.sqrt);
  return {
    area,
    perimeter,
    centroidX: cx + reference[0],
    centroidY: cy + reference[1],
    ixx,
    iyy,
    ixy,
    axis: 0.5 * Math.atan2(2 * ixy, iyy - ixx),
    gain: { area: gArea, perimeter: gPerimeter, centroidX: gX, centroidY: gY, axis: gAxis },
  };
}

/** Calls `add` at every Gauss node, with the outline there in `out` and its weight in parameter length. */
function eachNode(outline: Outline, knots: Float64Array, add: (weight: number) => void): void {
  for (let k = 0; k < knots.length; k++) {
    const end = k + 1 < knots.length ? knots[k + 1] : knots[0] + outline.period;
    const middle = 0.5 * (knots[k] + end);
    const half = 0.5 * (end - knots[k]);
    for (let g = 0; g < 3; g++) {
      for (let sign = -1; sign <= 1; sign += 2) {
        evaluateOutline(outline, middle + sign * half * NODES[g], out);
        add(half * WEIGHTS[g]);
      }
    }
  }
}

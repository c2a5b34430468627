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
  return {
    area,
    perimeter,
    centroidX: cx + reference[0],
    centroidY: cy + reference[1],
    ixx,
    iyy,
    ixy,
    axis: 0.5 * Math.atan2(2 * ixy, iyy - ixx),
  };
}

/** Root of ∫ g² q ds of each quantity; see `areaUncertainty`. */
export interface AreaUncertainty {
  area: number;
  perimeter: number;
  centroidX: number;
  centroidY: number;
  axis: number;
  ixx: number;
  iyy: number;
  ixy: number;
  least: number;
  greatest: number;
}

/**
 * Returns the standard uncertainty of each area property: root of ∫ g² q ds for its first-order change ∫ g d ds when
 * the outline moves by d along its outward normal. The centroid and the principal axes, about which the second moments
 * are taken, add nothing to first order.
 * @param density variance of the outline's error times the length it is correlated over (mm³) at a parameter
 */
export function areaUncertainty(
  outline: Outline,
  properties: AreaProperties,
  density: (t: number) => number,
): AreaUncertainty {
  const { area, centroidX, centroidY, ixx, iyy, ixy, axis } = properties;
  const spread = (iyy - ixx) ** 2 + 4 * ixy * ixy;
  const c = Math.cos(axis);
  const s = Math.sin(axis);
  const sums = new Float64Array(10);
  eachNode(outline, outlineKnotSpans(outline), (w, t) => {
    const x = out[0] - centroidX;
    const y = out[1] - centroidY;
    const speed = Math.hypot(out[2], out[3]);
    const along = c * x + s * y;
    const across = c * y - s * x;
    const turn = spread > 0 ? ((iyy - ixx) * x * y - ixy * (x * x - y * y)) / spread : 0;
    const curvature = (out[2] * out[5] - out[3] * out[4]) / speed ** 3;
    const gains = [1, curvature, x / area, y / area, turn, y * y, x * x, x * y, across * across, along * along];
    const weight = speed * w * density(t);
    for (let k = 0; k < 10; k++) sums[k] += gains[k] * gains[k] * weight;
  });
  const [uArea, perimeter, uX, uY, uAxis, uXx, uYy, uXy, least, greatest] = sums.map(Math.sqrt);
  return {
    area: uArea,
    perimeter,
    centroidX: uX,
    centroidY: uY,
    axis: uAxis,
    ixx: uXx,
    iyy: uYy,
    ixy: uXy,
    least,
    greatest,
  };
}

/** Calls `add` at every Gauss node, with the outline there in `out`, its weight in parameter length and its parameter. */
function eachNode(outline: Outline, knots: Float64Array, add: (weight: number, t: number) => void): void {
  for (let k = 0; k < knots.length; k++) {
    const end = k + 1 < knots.length ? knots[k + 1] : knots[0] + outline.period;
    const middle = 0.5 * (knots[k] + end);
    const half = 0.5 * (end - knots[k]);
    for (let g = 0; g < 3; g++) {
      for (let sign = -1; sign <= 1; sign += 2) {
        const t = middle + sign * half * NODES[g];
        evaluateOutline(outline, t, out);
        add(half * WEIGHTS[g], t);
      }
    }
  }
}

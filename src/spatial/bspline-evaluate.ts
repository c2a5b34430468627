import type { BsplineCurve, BsplineSurface } from '../model/bspline.ts';

/** Index k of the span [knots[k], knots[k + 1]) that holds `t`, clamped to the domain; never one without width. */
export function bsplineSpan(knots: Float64Array, degree: number, t: number): number {
  let low = degree;
  let high = knots.length - degree - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle] <= t) low = middle;
    else high = middle;
  }
  while (low > degree && knots[low + 1] <= knots[low]) low--;
  while (low < knots.length - degree - 2 && knots[low + 1] <= knots[low]) low++;
  return low;
}

/**
 * Writes the basis functions span − degree … span at `t` into `values` and their first derivatives into `slopes`,
 * degree + 1 numbers each. Cox-de Boor recursion (Piegl and Tiller, The NURBS Book, A2.2); the slopes from the
 * functions one degree lower.
 */
export function bsplineBasis(
  knots: Float64Array,
  degree: number,
  span: number,
  t: number,
  values: Float64Array,
  slopes: Float64Array,
): void {
  values[0] = 1;
  slopes[0] = 0;
  for (let p = 1; p <= degree; p++) {
    let carried = 0;
    let before = 0;
    for (let j = 0; j < p; j++) {
      const left = knots[span + 1 + j - p];
      const right = knots[span + 1 + j];
      const share = values[j] / (right - left);
      values[j] = carried + (right - t) * share;
      carried = (t - left) * share;
      slopes[j] = p * (before - share);
      before = share;
    }
    values[p] = carried;
    slopes[p] = p * before;
  }
}

/** Layout of an evaluated curve: C, C'. */
export const CURVE_PLACE_SIZE = 6;
/** Layout of an evaluated surface: S, Su, Sv. */
export const SURFACE_PLACE_SIZE = 9;

/** Writes the point and the first derivative at `t` into `out` (mm; the end spans continue outside the domain). */
export function bsplineCurveAt(curve: BsplineCurve, t: number, out: Float64Array): void {
  const { degree, knots, poles, weights } = curve;
  const values = new Float64Array(degree + 1);
  const slopes = new Float64Array(degree + 1);
  const span = bsplineSpan(knots, degree, t);
  bsplineBasis(knots, degree, span, t, values, slopes);
  out.fill(0, 0, CURVE_PLACE_SIZE);
  let weight = 0;
  let weightSlope = 0;
  for (let j = 0; j <= degree; j++) {
    const i = span - degree + j;
    const w = weights === undefined ? 1 : weights[i];
    weight += w * values[j];
    weightSlope += w * slopes[j];
    for (let axis = 0; axis < 3; axis++) {
      const pole = w * poles[3 * i + axis];
      out[axis] += pole * values[j];
      out[3 + axis] += pole * slopes[j];
    }
  }
  if (weights === undefined) return;
  for (let axis = 0; axis < 3; axis++) {
    out[axis] /= weight;
    out[3 + axis] = (out[3 + axis] - weightSlope * out[axis]) / weight;
  }
}

/** Writes the point and the first derivatives at (u, v) into `out` (mm; see {@link SURFACE_PLACE_SIZE}). */
export function bsplineSurfaceAt(surface: BsplineSurface, u: number, v: number, out: Float64Array): void {
  const { degreeU, degreeV, knotsU, knotsV, countU, poles, weights } = surface;
  const valuesU = new Float64Array(degreeU + 1);
  const slopesU = new Float64Array(degreeU + 1);
  const valuesV = new Float64Array(degreeV + 1);
  const slopesV = new Float64Array(degreeV + 1);
  const spanU = bsplineSpan(knotsU, degreeU, u);
  const spanV = bsplineSpan(knotsV, degreeV, v);
  bsplineBasis(knotsU, degreeU, spanU, u, valuesU, slopesU);
  bsplineBasis(knotsV, degreeV, spanV, v, valuesV, slopesV);
  out.fill(0, 0, SURFACE_PLACE_SIZE);
  let [weight, weightU, weightV] = [0, 0, 0];
  for (let b = 0; b <= degreeV; b++) {
    for (let a = 0; a <= degreeU; a++) {
      const i = (spanV - degreeV + b) * countU + spanU - degreeU + a;
      const w = weights === undefined ? 1 : weights[i];
      const n = w * valuesU[a] * valuesV[b];
      const nu = w * slopesU[a] * valuesV[b];
      const nv = w * valuesU[a] * slopesV[b];
      weight += n;
      weightU += nu;
      weightV += nv;
      for (let axis = 0; axis < 3; axis++) {
        const pole = poles[3 * i + axis];
        out[axis] += n * pole;
        out[3 + axis] += nu * pole;
        out[6 + axis] += nv * pole;
      }
    }
  }
  if (weights === undefined) return;
  for (let axis = 0; axis < 3; axis++) {
    out[axis] /= weight;
    out[3 + axis] = (out[3 + axis] - weightU * out[axis]) / weight;
    out[6 + axis] = (out[6 + axis] - weightV * out[axis]) / weight;
  }
}

/** Returns the curve of constant v, with the surface's own knots along u. */
export function bsplineIsoCurve(surface: BsplineSurface, v: number): BsplineCurve {
  const { degreeU, degreeV, knotsU, knotsV, countU, poles, weights } = surface;
  const values = new Float64Array(degreeV + 1);
  const span = bsplineSpan(knotsV, degreeV, v);
  bsplineBasis(knotsV, degreeV, span, v, values, new Float64Array(degreeV + 1));
  const sums = new Float64Array(3 * countU);
  const sumWeights = new Float64Array(countU);
  for (let b = 0; b <= degreeV; b++) {
    for (let i = 0; i < countU; i++) {
      const from = (span - degreeV + b) * countU + i;
      const n = values[b] * (weights === undefined ? 1 : weights[from]);
      sumWeights[i] += n;
      for (let axis = 0; axis < 3; axis++) sums[3 * i + axis] += n * poles[3 * from + axis];
    }
  }
  if (weights === undefined) return { degree: degreeU, knots: knotsU, poles: sums };
  for (let k = 0; k < sums.length; k++) sums[k] /= sumWeights[Math.floor(k / 3)];
  return { degree: degreeU, knots: knotsU, poles: sums, weights: sumWeights };
}

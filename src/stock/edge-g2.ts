import { solveSmall } from '../place/solve-small.ts';
import type { EdgeConic } from './edge-conic.ts';
import { distanceInside, type EdgeCurve, type EdgeJunction, edgeCurve, type NoseLine } from './edge-curve.ts';
import { type BentCurve, bendSpline, bentEvaluate } from './edge-g2-spline.ts';
import { type EdgeWish, nosePlace, wishes } from './edge-g2-wishes.ts';

/** Wishes of a smooth edge and how finely it is made. */
export interface SmoothEdgeOptions extends EdgeWish {
  /** Spans of the curvature's spline, at least 6. */
  spans?: number;
  steps?: number;
  /** What the curve is called and the ratio it started from. */
  form?: EdgeCurve['form'];
  ratio?: number | null;
  /** Points of the finished curve. */
  count?: number;
}

const SMOOTH_EDGE_DEFAULTS = { spans: 16, steps: 100 } as const;

/** The edge of least change of curvature, lengths in mm. */
export interface SmoothEdge {
  curve: EdgeCurve;
  /** Integral of the squared change of curvature along the curve (1/mm³). */
  energy: number;
  length: number;
  steps: number;
}

/** Start and end of an edge in the frame of its nose line: x depth, y along the line, mirrored so that it turns left. */
interface Frame {
  sign: 1 | -1;
  from: { x: number; y: number; heading: number };
  to: { x: number; y: number };
  turn: number;
}

const END = 1e-10;

/**
 * Returns the curve of least change of curvature, ∫ (dκ/ds)² ds, with place, tangent and curvature of both flanks at its
 * ends that touches the nose line, or null where none is found. Curvature is a cubic B-spline of arc length, so place and
 * direction follow by integration, curvatures at the ends are its end coefficients, and no freedom is lost to a
 * parameter. Newton's method on the conditions of the constrained minimum, damped, from a conic.
 * @param start conic between the same junctions
 */
export function smoothEdge(
  junctions: [EdgeJunction, EdgeJunction],
  line: NoseLine,
  start: EdgeConic,
  options: SmoothEdgeOptions = {},
): SmoothEdge | null {
  const frame = frameOf(junctions, line);
  const spline = bendSpline(options.spans ?? SMOOTH_EDGE_DEFAULTS.spans);
  const n = spline.count;
  const unknowns = n - 1;
  let curve: BentCurve = startCurve(start, junctions, frame, spline);
  // Unknown k is coefficient k + 1; the last one is the length.
  const moved = (by: ArrayLike<number>, share: number): BentCurve => {
    const coefficients = curve.coefficients.slice();
    for (let k = 0; k < n - 2; k++) coefficients[k + 1] += share * by[k];
    return { ...curve, coefficients, length: curve.length + share * by[n - 2] };
  };
  const wanted = (of: BentCurve) => wishes(of, frame.to, frame.turn, options);
  let now = wanted(curve);
  if (!now) return null;
  const rows = now.miss.length;
  let factor = new Float64Array(rows);
  let damping = 0;
  const most = options.steps ?? SMOOTH_EDGE_DEFAULTS.steps;
  for (let step = 1; step <= most; step++) {
    const energy = energyOf(curve);
    const hessian = energy.hessian;
    const unit = new Float64Array(unknowns);
    for (let k = 0; k < unknowns; k++) {
      const h = 1e-6 * (k === unknowns - 1 ? curve.length : 1 / curve.length);
      unit.fill(0);
      unit[k] = 1;
      const up = wanted(moved(unit, h));
      if (!up) return null;
      for (let j = 0; j < unknowns; j++)
        for (let r = 0; r < rows; r++)
          hessian[j * unknowns + k] -= (factor[r] * (up.rates[r][j] - now.rates[r][j])) / h;
    }
    for (;;) {
      const solution = newtonStep(hessian, energy.gradient, now.miss, now.rates, damping, curve.length);
      if (!solution || damping > 1e8) return null;
      const multipliers = solution.slice(unknowns);
      const price = 1e-9 + 2 * multipliers.reduce((greatest, value) => Math.max(greatest, Math.abs(value)), 0);
      const merit = (value: number, miss: number[]) => value + price * miss.reduce((sum, m) => sum + Math.abs(m), 0);
      const before = merit(energy.value, now.miss);
      let size = Math.abs(solution[unknowns - 1]) / curve.length;
      for (let k = 0; k < unknowns - 1; k++) size = Math.max(size, Math.abs(solution[k]) * curve.length);
      let share = Math.min(1, 3 / size);
      let next: ReturnType<typeof wanted> = null;
      let candidate = curve;
      for (; share > 0.01; share /= 2) {
        candidate = moved(solution, share);
        next = candidate.length > 0 ? wanted(candidate) : null;
        if (next && (merit(energyOf(candidate).value, next.miss) < before || size < 1e-5)) break;
        next = null;
      }
      if (next) {
        curve = candidate;
        now = next;
        factor = Float64Array.from(multipliers);
        damping = damping > 1e-6 ? damping / 10 : 0;
        if (size < END) return finished(curve, frame, junctions, line, options, step);
        break;
      }
      damping = damping === 0 ? 1e-4 : damping * 10;
    }
  }
  return null;
}

function frameOf([first, second]: [EdgeJunction, EdgeJunction], line: NoseLine): Frame {
  const sign = first.tangentX * second.tangentY - first.tangentY * second.tangentX < 0 ? 1 : -1;
  const across = (x: number, y: number) => sign * (y * line.inX - x * line.inY);
  const depth = (x: number, y: number) => x * line.inX + y * line.inY;
  const place = (at: EdgeJunction) => ({
    x: distanceInside(line, at.x, at.y),
    y: across(at.x - line.x, at.y - line.y),
  });
  const direction = (x: number, y: number) => Math.atan2(across(x, y), depth(x, y));
  const full = 2 * Math.PI;
  // Headings from half a turn below to half a turn above −depth, so that the nose lies at 3/2 π.
  let heading = direction(first.tangentX, first.tangentY);
  if (heading < 0) heading += full;
  let end = direction(-second.tangentX, -second.tangentY);
  while (end < heading) end += full;
  return { sign, from: { ...place(first), heading }, to: place(second), turn: end - heading };
}

/** Curvature as means of the conic's over a step to either side of each coefficient's own place, ends as the flanks. */
function startCurve(
  conic: EdgeConic,
  junctions: [EdgeJunction, EdgeJunction],
  frame: Frame,
  spline: BentCurve['spline'],
): BentCurve {
  const steps = 600;
  const out = new Float64Array(8);
  const length = new Float64Array(steps + 1);
  const turned = new Float64Array(steps + 1);
  for (let i = 0; i < steps; i++) {
    conic.evaluate((i + 0.5) / steps, out);
    const speed = Math.hypot(out[2], out[3]);
    length[i + 1] = length[i] + speed / steps;
    turned[i + 1] = turned[i] + Math.abs(out[2] * out[5] - out[3] * out[4]) / (speed * speed) / steps;
  }
  const total = length[steps];
  const turnAt = (s: number): number => {
    let i = 0;
    while (i < steps - 1 && length[i + 1] < s * total) i++;
    const share = (s * total - length[i]) / (length[i + 1] - length[i]);
    return turned[i] + Math.min(1, Math.max(0, share)) * (turned[i + 1] - turned[i]);
  };
  const n = spline.count;
  const coefficients = new Float64Array(n);
  const knot = (i: number) => Math.min(spline.spans, Math.max(0, i)) / spline.spans;
  for (let i = 1; i < n - 1; i++) {
    const place = (knot(i - 2) + knot(i - 1) + knot(i)) / 3;
    const low = Math.max(0, place - 1 / spline.spans);
    const high = Math.min(1, place + 1 / spline.spans);
    coefficients[i] = (turnAt(high) - turnAt(low)) / ((high - low) * total);
  }
  coefficients[0] = junctions[0].curvature;
  coefficients[n - 1] = junctions[1].curvature;
  const { x, y, heading } = frame.from;
  return { spline, coefficients, length: total, startX: x, startY: y, heading };
}

/** Energy cᵀ G c / length with its derivatives by the unknowns. */
function energyOf({ spline, coefficients: c, length }: BentCurve) {
  const n = spline.count;
  const m = n - 1;
  const gradient = new Float64Array(m);
  const hessian = new Float64Array(m * m);
  let value = 0;
  for (let i = 0; i < n; i++) {
    let row = 0;
    for (let j = 0; j < n; j++) row += spline.stiffness[i * n + j] * c[j];
    value += (c[i] * row) / length;
    if (i === 0 || i === n - 1) continue;
    gradient[i - 1] = (2 * row) / length;
    hessian[(i - 1) * m + m - 1] = hessian[(m - 1) * m + i - 1] = (-2 * row) / length ** 2;
    for (let j = 1; j < n - 1; j++) hessian[(i - 1) * m + j - 1] = (2 * spline.stiffness[i * n + j]) / length;
  }
  gradient[m - 1] = -value / length;
  hessian[m * m - 1] = (2 * value) / length ** 2;
  return { value, gradient, hessian };
}

/** Step of the unknowns and the multipliers after it. */
function newtonStep(
  hessian: Float64Array,
  gradient: Float64Array,
  miss: number[],
  rates: Float64Array[],
  damping: number,
  length: number,
): Float64Array | null {
  const m = gradient.length;
  const size = m + miss.length;
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < m; j++) matrix[i * size + j] = 0.5 * (hessian[i * m + j] + hessian[j * m + i]);
    matrix[i * size + i] += damping * (i === m - 1 ? length ** -5 : 1 / length);
    right[i] = -gradient[i];
    for (let r = 0; r < miss.length; r++) {
      matrix[i * size + m + r] = -rates[r][i];
      matrix[(m + r) * size + i] = rates[r][i];
    }
  }
  for (let r = 0; r < miss.length; r++) right[m + r] = -miss[r];
  return solveSmall(matrix, right, size);
}

function finished(
  bent: BentCurve,
  { sign }: Frame,
  junctions: [EdgeJunction, EdgeJunction],
  line: NoseLine,
  options: SmoothEdgeOptions,
  steps: number,
): SmoothEdge | null {
  const local = bentEvaluate(bent);
  const nose = nosePlace(bent);
  if (nose === null) return null;
  const evaluate = (t: number, out: Float64Array) => {
    local(t, out);
    for (let k = 0; k < 8; k += 2) {
      const depth = out[k];
      const across = sign * out[k + 1];
      out[k] = depth * line.inX - across * line.inY + (k === 0 ? line.x : 0);
      out[k + 1] = depth * line.inY + across * line.inX + (k === 0 ? line.y : 0);
    }
  };
  const parts = { form: options.form ?? 'smooth', ratio: options.ratio ?? null, junctions, line, evaluate };
  const curve = edgeCurve(parts, nose, options.count);
  return { curve, energy: energyOf(bent).value, length: bent.length, steps };
}

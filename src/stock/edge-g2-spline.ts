/** Curvature along an edge as clamped cubic B-spline on even knots over 0 … 1, and the curve that it bends. */
export interface BendSpline {
  /** Spans; the spline has three coefficients more. */
  spans: number;
  count: number;
  /** Integrals of the products of derivatives of the basis functions, row-major. */
  stiffness: Float64Array;
  /** Integrals of the basis functions up to each node of each span, so that whole spans need no basis anew. */
  nodes: Float64Array[];
}

/** The state of a bent curve: coefficients of curvature (1/mm), its length (mm), start and heading there. */
export interface BentCurve {
  spline: BendSpline;
  coefficients: Float64Array;
  length: number;
  startX: number;
  startY: number;
  heading: number;
}

/** 10-point Gauss-Legendre rule on [−1, 1], positive half. */
const NODES = [0.14887433898163122, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717];
const WEIGHTS = [
  0.29552422471475287, 0.26926671930999635, 0.21908636251598204, 0.1494513491505806, 0.06667134430868814,
];

/** Returns the spline with its stiffness; the derivatives' products have degree 4, which the rule integrates exactly. */
export function bendSpline(spans: number): BendSpline {
  const count = spans + 3;
  const spline: BendSpline = { spans, count, stiffness: new Float64Array(count * count), nodes: [] };
  const rate = new Float64Array(count);
  for (let k = 0; k < spans; k++)
    eachNode(k / spans, (k + 1) / spans, (s, weight) => {
      const integral = new Float64Array(count);
      bendBasis(spline, s, -1, integral);
      spline.nodes.push(integral);
      bendBasis(spline, s, 1, rate);
      for (let a = 0; a < count; a++)
        for (let b = 0; b < count; b++) spline.stiffness[a * count + b] += weight * rate[a] * rate[b];
    });
  return spline;
}

/**
 * Writes, for every basis function, its integral from 0 (order −1), its value (0) or its derivative (1) at `s`.
 * Source: de Boor, A Practical Guide to Splines; the integral of a B-spline is a sum of B-splines one degree up.
 */
function bendBasis({ spans }: BendSpline, s: number, order: -1 | 0 | 1, out: Float64Array): void {
  const degree = 3 - order;
  const span = Math.min(spans - 1, Math.max(0, Math.floor(s * spans)));
  const knot = (i: number) => Math.min(spans, Math.max(0, i)) / spans;
  const values = localBasis(degree, span, s, knot);
  out.fill(0);
  if (order === 0) {
    for (let j = 0; j <= 3; j++) out[span + j] = values[j];
  } else if (order === 1) {
    // Functions of degree 2 on the same knots, the first on knots span − 2 …
    for (let j = 0; j <= 2; j++) {
      const width = knot(span + j + 1) - knot(span + j - 2);
      out[span + j] -= (3 * values[j]) / width;
      out[span + j + 1] += (3 * values[j]) / width;
    }
  } else {
    let tail = 0;
    for (let j = 4; j >= 1; j--) {
      tail += values[j];
      const i = span + j - 1;
      out[i] = ((knot(i + 1) - knot(i - 3)) / 4) * tail;
    }
    for (let i = 0; i < span; i++) out[i] = (knot(i + 1) - knot(i - 3)) / 4;
  }
}

/** The functions of a degree that live on a span, first to last. Knots below 0 and above 1 repeat the ends. */
function localBasis(degree: number, span: number, s: number, knot: (i: number) => number): Float64Array {
  const values = new Float64Array(degree + 1);
  values[0] = 1;
  for (let p = 1; p <= degree; p++) {
    let carried = 0;
    for (let j = 0; j < p; j++) {
      const right = knot(span + j + 1);
      const left = knot(span + j + 1 - p);
      const part = values[j] / (right - left);
      values[j] = carried + (right - s) * part;
      carried = (s - left) * part;
    }
    values[p] = carried;
  }
  return values;
}

/** Visits the places and weights of Gauss-Legendre quadrature with ten points. */
function eachNode(from: number, to: number, visit: (s: number, weight: number) => void): void {
  const half = 0.5 * (to - from);
  const middle = 0.5 * (to + from);
  for (let g = 0; g < 5; g++)
    for (let sign = -1; sign <= 1; sign += 2) visit(middle + sign * half * NODES[g], half * WEIGHTS[g]);
}

/** Returns the heading at `s` (rad); writes its derivatives by the coefficients and, last, by the length. */
export function headingAt(curve: BentCurve, s: number, rates: Float64Array): number {
  const row = rates.subarray(0, curve.spline.count);
  bendBasis(curve.spline, s, -1, row);
  return headingBy(curve, row, rates);
}

/** The same from the integrals of the basis functions, which may be the same numbers as `rates`. */
function headingBy(curve: BentCurve, integral: Float64Array, rates: Float64Array): number {
  const { count } = curve.spline;
  let turned = 0;
  for (let i = 0; i < count; i++) {
    turned += integral[i] * curve.coefficients[i];
    rates[i] = curve.length * integral[i];
  }
  rates[count] = turned;
  return curve.heading + curve.length * turned;
}

/** Returns the point at `s` (mm); writes the derivatives of x and of y by the coefficients and, last, by the length. */
export function pointAt(curve: BentCurve, s: number, ratesX: Float64Array, ratesY: Float64Array): [number, number] {
  const { count, spans } = curve.spline;
  const rates = new Float64Array(count + 1);
  let x = 0;
  let y = 0;
  ratesX.fill(0);
  ratesY.fill(0);
  let node = 0;
  for (let k = 0; k < spans && k / spans < s; k++) {
    const whole = (k + 1) / spans <= s;
    eachNode(k / spans, whole ? (k + 1) / spans : s, (at, weight) => {
      const heading = whole ? headingBy(curve, curve.spline.nodes[node++], rates) : headingAt(curve, at, rates);
      const dx = weight * Math.cos(heading);
      const dy = weight * Math.sin(heading);
      x += dx;
      y += dy;
      for (let i = 0; i <= count; i++) {
        ratesX[i] -= curve.length * dy * rates[i];
        ratesY[i] += curve.length * dx * rates[i];
      }
    });
  }
  ratesX[count] += x;
  ratesY[count] += y;
  return [curve.startX + curve.length * x, curve.startY + curve.length * y];
}

/** Returns curvature (1/mm) and its derivative by `s`. */
export function bendAt(curve: BentCurve, s: number): [number, number] {
  const row = new Float64Array(curve.spline.count);
  const sum = (order: 0 | 1) => {
    bendBasis(curve.spline, s, order, row);
    return row.reduce((total, value, i) => total + value * curve.coefficients[i], 0);
  };
  return [sum(0), sum(1)];
}

/** Returns a function that writes the numbers of `EdgeEvaluate` in the curve's frame. */
export function bentEvaluate(curve: BentCurve): (s: number, out: Float64Array) => void {
  const { spans, count } = curve.spline;
  const rates = new Float64Array(count + 1);
  const starts = new Float64Array(2 * spans + 2);
  const stretch = (from: number, to: number): [number, number] => {
    let x = 0;
    let y = 0;
    eachNode(from, to, (at, weight) => {
      const heading = headingAt(curve, at, rates);
      x += weight * Math.cos(heading);
      y += weight * Math.sin(heading);
    });
    return [curve.length * x, curve.length * y];
  };
  starts.set([curve.startX, curve.startY]);
  for (let k = 0; k < spans; k++) {
    const [x, y] = stretch(k / spans, (k + 1) / spans);
    starts.set([starts[2 * k] + x, starts[2 * k + 1] + y], 2 * k + 2);
  }
  return (s, out) => {
    const k = Math.min(spans - 1, Math.max(0, Math.floor(s * spans)));
    const [x, y] = stretch(k / spans, s);
    const heading = headingAt(curve, s, rates);
    const [bend, bendRate] = bendAt(curve, s);
    const turn = curve.length * bend;
    const turnRate = curve.length * bendRate;
    const c = curve.length * Math.cos(heading);
    const d = curve.length * Math.sin(heading);
    out[0] = starts[2 * k] + x;
    out[1] = starts[2 * k + 1] + y;
    out[2] = c;
    out[3] = d;
    out[4] = -d * turn;
    out[5] = c * turn;
    out[6] = -c * turn * turn - d * turnRate;
    out[7] = -d * turn * turn + c * turnRate;
  };
}

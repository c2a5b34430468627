/** Polynomial y(x) with the least weighted squares, and how much each point moves it. */
export interface WeightedPolynomial {
  value: (x: number) => number;
  slope: (x: number) => number;
  bend: (x: number) => number;
  /** Change of the value, or of the slope, at `x` for a unit change of each point's y. */
  valueGains: (x: number) => Float64Array;
  slopeGains: (x: number) => Float64Array;
  /** Root of the weighted mean squared residual. */
  rms: number;
}

/**
 * Returns the polynomial of a degree through points, by polynomials orthogonal over them (Forsythe).
 * @param x,y points, at least degree + 1
 * @param weights a weight a point
 */
export function fitPolynomial(
  x: Float64Array,
  y: Float64Array,
  weights: Float64Array,
  degree: number,
): WeightedPolynomial {
  const n = x.length;
  const total = weights.reduce((sum, w) => sum + w, 0);
  const middle = x.reduce((sum, v, i) => sum + weights[i] * v, 0) / total;
  const scale = Math.sqrt(x.reduce((sum, v, i) => sum + weights[i] * (v - middle) ** 2, 0) / total);
  const z = x.map((v) => (v - middle) / scale);
  const basis: Float64Array[] = [];
  const monomials: Float64Array[] = [];
  for (let k = 0; k <= degree; k++) {
    const own = Float64Array.from(z, (v) => v ** k);
    const powers = new Float64Array(degree + 1);
    powers[k] = 1;
    // A second pass takes out what rounding left of the lower ones.
    for (let pass = 0; pass < 2; pass++)
      basis.forEach((other, j) => {
        const share = dot(own, other, weights);
        for (let i = 0; i < n; i++) own[i] -= share * other[i];
        for (let p = 0; p <= k; p++) powers[p] -= share * monomials[j][p];
      });
    const size = Math.sqrt(dot(own, own, weights));
    basis.push(own.map((v) => v / size));
    monomials.push(powers.map((v) => v / size));
  }
  const coefficients = new Float64Array(degree + 1);
  basis.forEach((own, k) => {
    const share = dot(own, y, weights);
    for (let p = 0; p <= k; p++) coefficients[p] += share * monomials[k][p];
  });
  const powersAt = (at: number, order: number): Float64Array =>
    coefficients.map((_, p) => derivative((at - middle) / scale, p, order) / scale ** order);
  const along = (row: Float64Array, of: Float64Array) => row.reduce((sum, v, p) => sum + v * of[p], 0);
  const gains = (at: number, order: number): Float64Array => {
    const row = powersAt(at, order);
    const shares = monomials.map((own) => along(row, own));
    return weights.map((w, i) => w * shares.reduce((sum, share, k) => sum + share * basis[k][i], 0));
  };
  const value = (at: number) => along(powersAt(at, 0), coefficients);
  const squares = x.reduce((sum, v, i) => sum + weights[i] * (y[i] - value(v)) ** 2, 0);
  return {
    value,
    slope: (at) => along(powersAt(at, 1), coefficients),
    bend: (at) => along(powersAt(at, 2), coefficients),
    valueGains: (at) => gains(at, 0),
    slopeGains: (at) => gains(at, 1),
    rms: Math.sqrt(squares / total),
  };
}

function dot(a: Float64Array, b: Float64Array, weights: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += weights[i] * a[i] * b[i];
  return sum;
}

/** Derivative of z^p of an order. */
function derivative(z: number, p: number, order: number): number {
  let factor = 1;
  for (let k = 0; k < order; k++) factor *= p - k;
  return factor === 0 ? 0 : factor * z ** (p - order);
}

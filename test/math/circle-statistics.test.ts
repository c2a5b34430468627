import { describe, expect, it } from 'vitest';
import { fitCircle, taubinCircle } from '../../src/math/circle-fit.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { symmetricEigen } from '../../src/math/symmetric-eigen.ts';
import { binomialBounds } from '../accuracy/binomial-bounds.ts';
import { circleSpread, ellipseSpread } from '../accuracy/efficient-spread.ts';

/** Statistics of circle fits on short arcs; Chernov & Lesort, J. Math. Imaging Vis. 23 (2005). */

const RAD = Math.PI / 180;
const COUNT = 41;
const NOISE = 0.01;
const TRIALS = 3000;

/** Points of the unit circle over ±half, ends included, with normal noise in x and y. */
function arc(half: number, count: number, noise: () => number) {
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const angle = half * ((2 * i) / (count - 1) - 1);
    x[i] = Math.cos(angle) + noise();
    y[i] = Math.sin(angle) + noise();
  }
  return { x, y };
}

/** u(R) √N / σ of the least-squares circle over a uniform arc of half angle A: √(m2 / (m2 − m1²)). */
function radiusFactor(half: number): number {
  const m1 = Math.sin(half) / half;
  const m2 = 0.5 + Math.sin(2 * half) / (4 * half);
  return Math.sqrt(m2 / (m2 - m1 * m1));
}

/** Radius of the circle of least squares of x² + y² − 2 a x − 2 b y − c, linear in its unknowns. */
function kasaRadius(x: Float64Array, y: Float64Array): number {
  const n = x.length;
  const mean = (of: (i: number) => number) => x.reduce((sum, _, i) => sum + of(i), 0) / n;
  const [mx, my] = [mean((i) => x[i]), mean((i) => y[i])];
  const u = x.map((v) => v - mx);
  const v = y.map((w) => w - my);
  const square = (i: number) => u[i] * u[i] + v[i] * v[i];
  const [uu, vv, uv] = [mean((i) => u[i] * u[i]), mean((i) => v[i] * v[i]), mean((i) => u[i] * v[i])];
  const [uz, vz] = [mean((i) => u[i] * square(i)), mean((i) => v[i] * square(i))];
  const det = 2 * (uu * vv - uv * uv);
  const a = (uz * vv - vz * uv) / det;
  const b = (vz * uu - uz * uv) / det;
  return Math.sqrt(a * a + b * b + uu + vv);
}

/** Mean and standard deviation of the relative errors of the radius by three fits over seeded trials. */
function relativeErrors(halfDeg: number) {
  const normal = normalFrom(seededRandom(12));
  const errors = {
    kasa: new Float64Array(TRIALS),
    taubin: new Float64Array(TRIALS),
    geometric: new Float64Array(TRIALS),
  };
  for (let k = 0; k < TRIALS; k++) {
    const { x, y } = arc(halfDeg * RAD, COUNT, () => NOISE * normal());
    errors.kasa[k] = kasaRadius(x, y) - 1;
    errors.taubin[k] = (taubinCircle(x, y)?.[2] ?? Number.NaN) - 1;
    errors.geometric[k] = (fitCircle(x, y)?.radius ?? Number.NaN) - 1;
  }
  const statistics = (list: Float64Array) => {
    const mean = list.reduce((sum, e) => sum + e, 0) / TRIALS;
    return { mean, sd: Math.sqrt(list.reduce((sum, e) => sum + (e - mean) ** 2, 0) / (TRIALS - 1)) };
  };
  return {
    kasa: statistics(errors.kasa),
    taubin: statistics(errors.taubin),
    geometric: statistics(errors.geometric),
    apart: statistics(errors.taubin.map((e, k) => e - errors.geometric[k])),
  };
}

describe('uncertainty of the radius over a uniform arc', () => {
  it.each([
    [15, '97.24'],
    [30, '23.85'],
    [45, '10.28'],
    [60, '5.564'],
    [75, '3.418'],
    [90, '2.298'],
    [180, '1.000'],
  ])('half angle %d°: factor %s', (halfDeg, printed) => {
    const factor = radiusFactor(halfDeg * RAD);
    expect(factor.toFixed(printed.split('.')[1].length)).toBe(printed);
    // The fit states the same of points in the middles of equal steps, whose sums tend to the integrals.
    const count = 20000;
    const x = new Float64Array(count);
    const y = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      const angle = halfDeg * RAD * ((2 * (i + 0.5)) / count - 1);
      x[i] = Math.cos(angle);
      y[i] = Math.sin(angle);
    }
    const stated = Math.sqrt(count * (fitCircle(x, y)?.covariance[8] ?? Number.NaN));
    expect(stated / factor).toBeCloseTo(1, 5);
  });

  it('is the least spread that the accuracy lane holds circles against, beside that of ellipses', () => {
    for (const half of [30, 60, 90].map((a) => a * RAD))
      expect((circleSpread(half, 400) * 20) / radiusFactor(half)).toBeCloseTo(1, 5);
    // The nearer to round, the less the axis is held, and the semi-axes with it.
    const [long, round] = [ellipseSpread(3, 1, 400), ellipseSpread(1.1, 1, 400)];
    expect(long.a).toBeGreaterThan(5 * long.b);
    expect(long.bOfRatio).toBeLessThan(long.b);
    expect(round.b).toBeGreaterThan(long.b);
  });

  it('tends to √45 / A² for small arcs', () => {
    for (const half of [0.05, 0.1]) expect((radiusFactor(half) * half * half) / Math.sqrt(45)).toBeCloseTo(1, 2);
  });

  it('of 41 points with 2 µm noise is 1.74 µm over ±60° and 7.45 µm over ±30°', () => {
    const u = (halfDeg: number) => (0.002 / Math.sqrt(COUNT)) * radiusFactor(halfDeg * RAD);
    expect(u(60).toFixed(5)).toBe('0.00174');
    expect(u(30).toFixed(5)).toBe('0.00745');
  });
});

describe(`mean relative error of the radius, ${COUNT} points, noise 1 % of R, ${TRIALS} trials`, () => {
  // Bounds: the known mean of the linear fit, and four standard deviations of a mean of these trials about it.
  it.each([
    [60, -0.0023, 0.0001],
    [30, -0.044, 0.0014],
    [20, -0.195, 0.005],
  ])('half arc %d°: the linear fit is biased by %d, the others are not', (halfDeg, kasaMean, geometricMean) => {
    const { kasa, taubin, geometric, apart } = relativeErrors(halfDeg);
    const band = (sd: number) => (4 * sd) / Math.sqrt(TRIALS);
    expect(Math.abs(kasa.mean - kasaMean)).toBeLessThan(band(kasa.sd) + 0.0005);
    expect(Math.abs(geometric.mean - geometricMean)).toBeLessThan(band(geometric.sd));
    expect(Math.abs(taubin.mean - geometricMean)).toBeLessThan(band(taubin.sd));
    // On the same points both agree far better than either repeats.
    expect(Math.abs(apart.mean)).toBeLessThan(0.1 * geometric.sd);
    expect(-kasa.mean).toBeGreaterThan(Math.abs(geometric.mean) + 2 * band(kasa.sd));
    // Points at the very ends hold the radius a little better than the uniform arc.
    const ratio = geometric.sd / (radiusFactor(halfDeg * RAD) * (NOISE / Math.sqrt(COUNT)));
    expect(ratio).toBeGreaterThan(0.85);
    expect(ratio).toBeLessThan(1.05);
  });

  it('spreads by 8.3 % over ±20°', () => {
    expect(Math.abs(relativeErrors(20).geometric.sd - 0.083)).toBeLessThan(0.006);
  });
});

describe('information of a circle', () => {
  it('over a short arc has one weak direction: radius and centre move together', () => {
    const { x, y } = arc(20 * RAD, COUNT, () => 0);
    const { values, vectors } = symmetricEigen(fitCircle(x, y)?.covariance ?? new Float64Array(9), 3);
    expect(values[2] / values[1]).toBeGreaterThan(100);
    const [cx, , radius] = vectors.subarray(6, 9);
    expect(Math.abs(cx + radius)).toBeLessThan(0.05);
  });
});

describe('bounds of a count', () => {
  it('leave at most half a thousandth outside on either side, and would leave more one nearer', () => {
    const [n, p] = [20, 0.9];
    const [least, most] = binomialBounds(n, p, 0.999);
    const choose = (k: number) => Array.from({ length: k }, (_, i) => (n - i) / (i + 1)).reduce((a, b) => a * b, 1);
    const below = (k: number) =>
      Array.from({ length: k }, (_, i) => choose(i) * p ** i * (1 - p) ** (n - i)).reduce((a, b) => a + b, 0);
    expect(below(least)).toBeLessThanOrEqual(5e-4);
    expect(below(least + 1)).toBeGreaterThan(5e-4);
    expect(most).toBe(n);
  });
});

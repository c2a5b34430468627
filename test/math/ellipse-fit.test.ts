import { describe, expect, it } from 'vitest';
import { fitNoseConic, semiAxes } from '../../src/math/ellipse-fit.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';

/** Points of an ellipse edge, axis turned by `turn`, nose at (5, 1); parameter within ± `half` (rad). */
function edge(a: number, b: number, half: number, count: number, turn: number, error: () => number) {
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const t = half * ((2 * i) / (count - 1) - 1);
    const nx = -Math.cos(t) / a;
    const ny = Math.sin(t) / b;
    const e = error() / Math.hypot(nx, ny);
    const u = a * (1 - Math.cos(t)) + e * nx;
    const v = b * Math.sin(t) + e * ny;
    x[i] = 5 + u * Math.cos(turn) - v * Math.sin(turn);
    y[i] = 1 + u * Math.sin(turn) + v * Math.cos(turn);
  }
  return { x, y, ax: Math.cos(turn), ay: Math.sin(turn) };
}

describe('nose conic fit', () => {
  it('returns ellipse, circle and parabola of exact points', () => {
    const ellipse = edge(3, 1, 1.4, 61, 0.7, () => 0);
    const fit = fitNoseConic(ellipse.x, ellipse.y, undefined, ellipse.ax, ellipse.ay);
    expect(fit?.radius).toBeCloseTo(1 / 3, 10);
    expect(fit?.noseX).toBeCloseTo(5, 10);
    expect(fit?.noseY).toBeCloseTo(1, 10);
    const axes = fit && semiAxes(fit);
    expect(axes?.a).toBeCloseTo(3, 8);
    expect(axes?.b).toBeCloseTo(1, 8);

    const circle = edge(0.4, 0.4, 1, 31, -2, () => 0);
    expect(fitNoseConic(circle.x, circle.y, undefined, circle.ax, circle.ay)?.e).toBeCloseTo(1, 8);

    const v = Float64Array.from({ length: 41 }, (_, i) => (i - 20) / 20);
    const open = fitNoseConic(
      v.map((t) => t * t),
      v,
      undefined,
      1,
      0,
    );
    expect(open?.radius).toBeCloseTo(0.5, 9);
    expect(open?.e).toBeCloseTo(0, 8);
  });

  it('states the uncertainties of a 3:1 half ellipse of 61 points: a 4.44, b 0.39, b²/a 0.30 sigma', () => {
    const { x, y, ax, ay } = edge(0.9, 0.3, Math.PI / 2, 61, 0, () => 0);
    const fit = fitNoseConic(x, y, undefined, ax, ay);
    const axes = fit && semiAxes(fit);
    expect(Math.sqrt(axes?.varianceA ?? 0)).toBeCloseTo(4.44, 1);
    expect(Math.sqrt(axes?.varianceB ?? 0)).toBeCloseTo(0.39, 2);
    expect(Math.sqrt(fit?.covariance[10] ?? 0)).toBeCloseTo(0.3, 2);
  });

  it('keeps its errors within what it states', () => {
    const normal = normalFrom(seededRandom(9));
    let squares = 0;
    let stated = 0;
    const runs = 300;
    for (let k = 0; k < runs; k++) {
      const { x, y, ax, ay } = edge(0.9, 0.3, 1.4, 200, 0.3, () => 0.003 * normal());
      const fit = fitNoseConic(x, y, undefined, ax, ay);
      squares += ((fit?.radius ?? Number.NaN) - 0.1) ** 2;
      stated += 9e-6 * (fit?.covariance[10] ?? Number.NaN);
    }
    expect(Math.sqrt(squares / stated)).toBeGreaterThan(0.85);
    expect(Math.sqrt(squares / stated)).toBeLessThan(1.15);
  });
});

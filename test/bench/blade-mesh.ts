/** Closed blade-like test body and points near it, made from formulas and a seed. */
import { normalFrom, seededRandom } from '../../src/math/random.ts';

const SPAN = 120;

export interface BladeMesh {
  positions: Float64Array;
  triangles: Uint32Array;
}

/** Point of the blade at turn `a` round the section (0 = trailing edge) and share `v` of the span (mm). */
export function bladePoint(a: number, v: number): [number, number, number] {
  const chord = 45 - 15 * v;
  const along = 0.5 * (1 + Math.cos(a));
  const half = 0.5 * (0.08 - 0.05 * v) * Math.sin(a) * (1.15 - 0.4 * along);
  const camber = 4 * (0.06 - 0.03 * v) * along * (1 - along);
  const x = (along - 0.45) * chord;
  const y = (camber + half - 0.03) * chord;
  const twist = (35 * Math.PI * v) / 180;
  const bow = 1.5 * Math.sin(Math.PI * v);
  return [
    Math.cos(twist) * x - Math.sin(twist) * y + 0.5 * bow,
    Math.sin(twist) * x + Math.cos(twist) * y + bow,
    SPAN * v,
  ];
}

/**
 * Blade of `around` columns by `rows` rows of squares, two triangles each, with flat ends. Columns at equal steps of
 * the ellipse angle, which makes them denser at the edges.
 *
 * @param around even number of columns.
 */
export function bladeMesh(around: number, rows: number): BladeMesh {
  const positions = new Float64Array(3 * around * (rows + 1));
  const triangles: number[] = [];
  for (let j = 0; j <= rows; j++) {
    for (let i = 0; i < around; i++)
      positions.set(bladePoint((2 * Math.PI * i) / around, j / rows), 3 * (j * around + i));
  }
  const quad = (a: number, b: number, c: number, d: number) => {
    triangles.push(a, b, c, a, c, d);
  };
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < around; i++) {
      const n = (i + 1) % around;
      quad(j * around + i, j * around + n, (j + 1) * around + n, (j + 1) * around + i);
    }
  }
  const top = rows * around;
  const half = around / 2;
  triangles.push(0, around - 1, 1, top, top + 1, top + around - 1);
  triangles.push(half - 1, half + 1, half, top + half - 1, top + half, top + half + 1);
  for (let i = 1; i < half - 1; i++) {
    quad(i, around - i, around - i - 1, i + 1);
    quad(top + i, top + i + 1, top + around - i - 1, top + around - i);
  }
  return { positions, triangles: new Uint32Array(triangles) };
}

/** Points in random order near the blade: smooth deviation within ±0.15 mm along the normal and noise of 5 µm. */
export function nearPoints(count: number, seed: number): Float64Array {
  const random = seededRandom(seed);
  const normal = normalFrom(random);
  const points = new Float64Array(3 * count);
  const step = 1e-4;
  for (let i = 0; i < count; i++) {
    const a = 2 * Math.PI * random();
    const v = step + (1 - 2 * step) * random();
    const p = bladePoint(a, v);
    const p1 = bladePoint(a + step, v);
    const p2 = bladePoint(a, v + step);
    const [ux, uy, uz] = [p1[0] - p[0], p1[1] - p[1], p1[2] - p[2]];
    const [wx, wy, wz] = [p2[0] - p[0], p2[1] - p[1], p2[2] - p[2]];
    const n = [uy * wz - uz * wy, uz * wx - ux * wz, ux * wy - uy * wx];
    const size = Math.hypot(n[0], n[1], n[2]);
    const bend = 0.15 * Math.sin(a + 2.2 * v) * Math.cos(3 * v) + 0.005 * normal();
    for (let k = 0; k < 3; k++) points[3 * i + k] = p[k] + (bend * n[k]) / size;
  }
  return points;
}

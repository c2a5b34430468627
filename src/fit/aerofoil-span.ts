import { CamberwrightError } from '../error.ts';
import type { Mesh } from '../model/shape.ts';
import { type SliceLoop, sliceMesh } from '../section/slice-mesh.ts';

/** The part of a blade mesh that is aerofoil: between its fillet and its tip. */
export interface AerofoilSpan {
  from: number;
  to: number;
}

const SLICES = 161;
/** Inner sections that the trend of area is taken from, as shares of the usable run. */
const TREND_FROM = 0.3;
const TREND_TO = 0.9;
/** A section belongs to the aerofoil while its area is within this share of the trend … */
const AREA_BAND = 0.03;
/** … and no neighbour's area differs by more than this share. */
const AREA_STEP = 0.06;

/**
 * Returns the height range of the aerofoil of a blade mesh: the longest run of planes that cut one closed loop of
 * steadily changing area, shortened at both ends to where the area follows the run's own quadratic trend. Root block,
 * platform and fillet so fall off.
 * @throws shape/no-closed-section when no run of sections is found
 */
export function aerofoilSpan(mesh: Mesh): AerofoilSpan {
  const [low, high] = heightRange(mesh);
  const step = (high - low) / (SLICES + 1);
  const heights = Float64Array.from({ length: SLICES }, (_, i) => low + (i + 1) * step);
  const areas = sliceMesh(mesh, heights).map(singleLoopArea);
  let best: [number, number] = [0, -1];
  let from = 0;
  for (let i = 0; i <= SLICES; i++) {
    const linked =
      i < SLICES && areas[i] > 0 && (i === from || Math.abs(Math.log(areas[i] / areas[i - 1])) < AREA_STEP);
    if (linked) continue;
    if (i - 1 - from > best[1] - best[0]) best = [from, i - 1];
    from = i < SLICES && areas[i] > 0 ? i : i + 1;
  }
  const [first, last] = best;
  if (last - first < 8) {
    throw new CamberwrightError('shape/no-closed-section', 'The mesh has no run of closed sections along Z.', {
      where: 'nominal mesh',
      remedy: 'Give a closed blade surface with its span along Z, or a section table.',
    });
  }
  const trend = areaTrend(areas, first, last);
  const fits = (i: number): boolean => Math.abs(Math.log(areas[i]) - trend(i)) < AREA_BAND;
  let a = Math.round(first + TREND_FROM * (last - first));
  let b = Math.round(first + TREND_TO * (last - first));
  while (a > first && fits(a - 1)) a--;
  while (b < last && fits(b + 1)) b++;
  return { from: a === 0 ? low : heights[a], to: b === SLICES - 1 ? high : heights[b] };
}

export function heightRange(mesh: Mesh): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 2; i < mesh.positions.length; i += 3) {
    low = Math.min(low, mesh.positions[i]);
    high = Math.max(high, mesh.positions[i]);
  }
  return [low, high];
}

/** Area of the only sizeable closed loop of a cut; 0 when there is none or there are several. */
function singleLoopArea(loops: readonly SliceLoop[]): number {
  const areas = loops.filter((loop) => loop.closed).map((loop) => Math.abs(loopArea(loop.points)));
  areas.sort((a, b) => b - a);
  if (areas.length === 0 || areas[0] === 0) return 0;
  return areas.length > 1 && areas[1] > 0.02 * areas[0] ? 0 : areas[0];
}

export function loopArea(points: Float64Array): number {
  let area = 0;
  const n = points.length;
  for (let i = 0; i < n; i += 2) {
    const j = (i + 2) % n;
    area += points[i] * points[j + 1] - points[j] * points[i + 1];
  }
  return area / 2;
}

/** Quadratic least-squares trend of the logarithm of the area over the inner part of a run. */
function areaTrend(areas: readonly number[], first: number, last: number): (i: number) => number {
  const from = Math.round(first + TREND_FROM * (last - first));
  const to = Math.round(first + TREND_TO * (last - first));
  const scale = (i: number): number => (2 * (i - from)) / (to - from) - 1;
  const m = new Float64Array(5);
  const r = new Float64Array(3);
  for (let i = from; i <= to; i++) {
    const x = scale(i);
    const y = Math.log(areas[i]);
    for (let k = 0; k < 5; k++) m[k] += x ** k;
    for (let k = 0; k < 3; k++) r[k] += y * x ** k;
  }
  // Cramer's rule on the symmetric 3 × 3 normal equations.
  const det = (a: number[]): number =>
    a[0] * (a[4] * a[8] - a[5] * a[7]) - a[1] * (a[3] * a[8] - a[5] * a[6]) + a[2] * (a[3] * a[7] - a[4] * a[6]);
  const base = [m[0], m[1], m[2], m[1], m[2], m[3], m[2], m[3], m[4]];
  const whole = det(base);
  const c = [0, 1, 2].map((k) => {
    const replaced = base.slice();
    for (let row = 0; row < 3; row++) replaced[3 * row + k] = r[row];
    return det(replaced) / whole;
  });
  return (i) => {
    const x = scale(i);
    return c[0] + c[1] * x + c[2] * x * x;
  };
}

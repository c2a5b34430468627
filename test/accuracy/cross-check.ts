import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { outlinePieces } from '../../src/fit/outline-pieces.ts';
import { simplexSearch } from '../../src/math/simplex-search.ts';
import type { Outline } from '../../src/model/outline.ts';

/** Plain second ways to what the measures find: dense polylines, brute force and searches without derivatives. */

/** Vertices of a polyline, about. */
const VERTICES = 12_000;
const GOLDEN = 0.6180339887498949;

/** Vertices of a closed polyline. */
export interface Polyline {
  x: Float64Array;
  y: Float64Array;
}

/** Returns vertices at equal parameter steps within every span of an outline, `times` as many as usual. */
export function polylineOf(outline: Outline, times = 1): Polyline {
  const { breaks } = outlinePieces(outline);
  const spans = breaks.length - 1;
  const perSpan = times * Math.ceil(VERTICES / spans);
  const x = new Float64Array(spans * perSpan);
  const y = new Float64Array(spans * perSpan);
  const out = new Float64Array(8);
  for (let i = 0; i < x.length; i++) {
    const s = Math.floor(i / perSpan);
    evaluateOutline(outline, breaks[s] + ((i % perSpan) / perSpan) * (breaks[s + 1] - breaks[s]), out);
    x[i] = out[0];
    y[i] = out[1];
  }
  return { x, y };
}

/** Returns the longest distance between two vertices: every pair. */
export function farthestPair({ x, y }: Polyline): number {
  let most = 0;
  for (let i = 0; i < x.length; i++)
    for (let j = 0; j < i; j++) most = Math.max(most, (x[i] - x[j]) ** 2 + (y[i] - y[j]) ** 2);
  return Math.sqrt(most);
}

/**
 * Returns the extent along the line that all vertices lie on one side of and that touches two far apart, and its angle
 * (rad): halving of the direction, the two contacts at its ends.
 * @param towards angle roughly from the leading to the trailing edge (rad), the hollow side on its right
 */
export function restingLine({ x, y }: Polyline, towards: number): { length: number; angle: number } {
  const lowest = (angle: number): number => {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < x.length; i++) {
      const height = y[i] * Math.cos(angle) - x[i] * Math.sin(angle);
      if (height < least) [least, best] = [height, i];
    }
    return x[best] * Math.cos(towards) + y[best] * Math.sin(towards);
  };
  let [low, high] = [towards - 0.7, towards + 0.7];
  const middle = 0.5 * (lowest(low) + lowest(high));
  const first = lowest(low) < middle;
  for (let turn = 0; turn < 50; turn++) {
    const angle = 0.5 * (low + high);
    if (lowest(angle) < middle === first) low = angle;
    else high = angle;
  }
  const angle = 0.5 * (low + high);
  const along = x.map((v, i) => v * Math.cos(angle) + y[i] * Math.sin(angle));
  return { angle, length: greatest(along) + greatest(along.map((v) => -v)) };
}

/**
 * Returns the diameter of the largest circle inside a polyline: greatest distance from it over the places of a line
 * across the chord, that over the lines along the chord, both by golden section.
 * @param towards angle of the chord (rad)
 */
export function widestCircle({ x, y }: Polyline, towards: number): number {
  const n = x.length;
  const u = x.map((v, i) => v * Math.cos(towards) + y[i] * Math.sin(towards));
  const w = y.map((v, i) => v * Math.cos(towards) - x[i] * Math.sin(towards));
  const clearance = (cu: number, cw: number): number => {
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0, j = n - 1; i < n; j = i++) {
      const [du, dw] = [u[i] - u[j], w[i] - w[j]];
      const share = ((cu - u[j]) * du + (cw - w[j]) * dw) / (du * du + dw * dw);
      const held = Math.min(1, Math.max(0, share));
      least = Math.min(least, (cu - u[j] - held * du) ** 2 + (cw - w[j] - held * dw) ** 2);
    }
    return Math.sqrt(least);
  };
  const across = (cu: number): number => {
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 0, j = n - 1; i < n; j = i++) {
      if (u[i] > cu === u[j] > cu) continue;
      const crossing = w[j] + ((cu - u[j]) / (u[i] - u[j])) * (w[i] - w[j]);
      low = Math.min(low, crossing);
      high = Math.max(high, crossing);
    }
    return clearance(
      cu,
      peakOf((cw) => clearance(cu, cw), low, high, 1e-9),
    );
  };
  const [from, to] = [-greatest(u.map((v) => -v)), greatest(u)];
  const steps = 24;
  const at = (k: number) => from + ((to - from) * k) / steps;
  let best = 2;
  for (let k = 2; k < steps - 1; k++) if (across(at(k)) > across(at(best))) best = k;
  return 2 * across(peakOf(across, at(best - 1), at(best + 1), 1e-5));
}

/** Area, perimeter and centroid as limits of polygons: of n and 2 n vertices, errors of second order taken out. */
export function polygonLimit(outline: Outline): { area: number; perimeter: number; x: number; y: number } {
  const [coarse, fine] = [1, 2].map((times) => polygonSums(polylineOf(outline, times)));
  const [area, perimeter, momentX, momentY] = fine.map((value, k) => value + (value - coarse[k]) / 3);
  return { area, perimeter, x: momentX / area, y: momentY / area };
}

function polygonSums({ x, y }: Polyline): number[] {
  const sums = [0, 0, 0, 0];
  for (let i = 0, j = x.length - 1; i < x.length; j = i++) {
    const cross = x[j] * y[i] - x[i] * y[j];
    sums[0] += cross / 2;
    sums[1] += Math.hypot(x[i] - x[j], y[i] - y[j]);
    sums[2] += (cross * (x[i] + x[j])) / 6;
    sums[3] += (cross * (y[i] + y[j])) / 6;
  }
  return sums;
}

/** Returns the radius of the circle of greatest likelihood: search over its centre, the radius the mean distance. */
export function likeliestCircle({ x, y }: Polyline): number {
  const distances = (at: Float64Array) => x.map((v, i) => Math.hypot(v - at[0], y[i] - at[1]));
  const mean = (list: Float64Array) => list.reduce((sum, d) => sum + d, 0) / list.length;
  const found = settled(
    (at) => {
      const own = distances(at);
      const middle = mean(own);
      return own.reduce((sum, d) => sum + (d - middle) ** 2, 0);
    },
    [mean(x), mean(y)],
    greatest(x) - mean(x),
  );
  return mean(distances(found));
}

/**
 * Returns b of the ellipse of greatest likelihood whose axis direction and a : b are known: search over centre and b,
 * the distance of each point the least over the ellipse's own parameter.
 * @param axisX,axisY unit vector along the axis, from the nose into the body
 */
export function likeliestEllipse({ x, y }: Polyline, axisX: number, axisY: number, ratio: number): number {
  const along = x.map((v, i) => v * axisX + y[i] * axisY);
  const across = x.map((v, i) => y[i] * axisX - v * axisY);
  const half = 0.5 * (greatest(across) + greatest(across.map((v) => -v)));
  const nose = -greatest(along.map((v) => -v));
  const found = settled(
    ([cu, cv, b]) => {
      let sum = 0;
      for (let i = 0; i < along.length; i++) {
        const [pu, pv] = [along[i] - cu, across[i] - cv];
        const near = (angle: number) => -Math.hypot(pu + ratio * b * Math.cos(angle), pv - b * Math.sin(angle));
        const guess = Math.atan2(ratio * pv, -pu);
        sum += near(peakOf(near, guess - 0.3, guess + 0.3, 1e-7)) ** 2;
      }
      return sum;
    },
    [nose + ratio * half, greatest(across) - half, half],
    0.1 * half,
  );
  return found[2];
}

/** Simplex search begun anew at what it found, ever smaller. */
function settled(f: (at: Float64Array) => number, start: number[], size: number): Float64Array {
  let at = Float64Array.from(start);
  for (const share of [1, 1e-2, 1e-4]) {
    const found = simplexSearch(f, at, new Float64Array(at.length).fill(share * size), 1e-16);
    at = Float64Array.from(found.at);
  }
  return at;
}

/** Place of the maximum of a function with one peak, by golden section. */
function peakOf(f: (at: number) => number, low: number, high: number, width: number): number {
  let a = high - GOLDEN * (high - low);
  let b = low + GOLDEN * (high - low);
  let [fa, fb] = [f(a), f(b)];
  while (high - low > width) {
    if (fa > fb) {
      [high, b, fb] = [b, a, fa];
      a = high - GOLDEN * (high - low);
      fa = f(a);
    } else {
      [low, a, fa] = [a, b, fb];
      b = low + GOLDEN * (high - low);
      fb = f(b);
    }
  }
  return 0.5 * (low + high);
}

function greatest(values: Float64Array): number {
  return values.reduce((most, v) => Math.max(most, v), Number.NEGATIVE_INFINITY);
}

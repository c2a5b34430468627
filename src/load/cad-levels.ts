import { splineSlopes } from '../math/cubic-spline.ts';
import type { BsplineSurface } from '../model/bspline.ts';
import { bsplineDomain } from '../spatial/bspline-closed.ts';
import { bsplineSurfaceAt, SURFACE_PLACE_SIZE } from '../spatial/bspline-evaluate.ts';

/** Columns along u at which the surface is looked at. */
const COLUMNS = 48;
/** Sections are added until splines through them are this near the surface, as a share of its size. */
const NEAR = 2e-6;
const MOST_LEVELS = 500;

/** Parameters v at which a surface is cut into sections, with their heights. */
export interface CadLevels {
  v: number[];
  z: number[];
  /** Largest spread of the heights of one section. */
  spread: number;
  /** True when splines through the levels follow the surface. */
  followed: boolean;
}

/**
 * Returns the levels of a surface: every knot of v, and places halfway where a cubic spline over the height through the
 * levels would leave the surface.
 */
export function levelsOf(surface: BsplineSurface, size: number): CadLevels {
  const { knotsV, degreeV } = surface;
  const [from, to] = bsplineDomain(knotsV, degreeV);
  let v = [...new Set(knotsV)].filter((knot) => knot >= from && knot <= to);
  for (;;) {
    const rows = rowsAt(surface, v);
    const middle = rowsAt(
      surface,
      v.slice(1).map((at, k) => (v[k] + at) / 2),
    );
    const { z } = rows;
    const spread = Math.max(rows.spread, middle.spread);
    const sound = spread <= NEAR * size && isMonotone(z);
    const wide = sound ? spansTooWide(rows, middle, NEAR * size) : [];
    if (wide.length === 0 || v.length + wide.length > MOST_LEVELS) {
      return { v, z, spread, followed: wide.length === 0 };
    }
    v = [...v, ...wide.map((k) => (v[k] + v[k + 1]) / 2)].sort((a, b) => a - b);
  }
}

function isMonotone(z: readonly number[]): boolean {
  const sign = Math.sign(z[1] - z[0]);
  return sign !== 0 && z.every((height, k) => k === 0 || (height - z[k - 1]) * sign > 0);
}

/** Points of the columns at rows of v, row-major; height of each row and the largest spread of one. */
interface Rows {
  x: Float64Array;
  y: Float64Array;
  z: number[];
  spread: number;
}

function rowsAt(surface: BsplineSurface, v: readonly number[]): Rows {
  const [from, to] = bsplineDomain(surface.knotsU, surface.degreeU);
  const out = new Float64Array(SURFACE_PLACE_SIZE);
  const x = new Float64Array(v.length * COLUMNS);
  const y = new Float64Array(v.length * COLUMNS);
  let spread = 0;
  const z = v.map((at, j) => {
    let [low, high, first] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
    for (let i = 0; i < COLUMNS; i++) {
      bsplineSurfaceAt(surface, from + ((to - from) * i) / COLUMNS, at, out);
      x[j * COLUMNS + i] = out[0];
      y[j * COLUMNS + i] = out[1];
      low = Math.min(low, out[2]);
      high = Math.max(high, out[2]);
      if (i === 0) first = out[2];
    }
    spread = Math.max(spread, high - low);
    return Math.abs(first - at) <= 1e-12 * Math.max(1, Math.abs(at)) ? at : first;
  });
  return { x, y, z, spread };
}

/** Spans of v in whose middle the splines over the height through the rows are farther than `near` from the surface. */
function spansTooWide({ x, y, z }: Rows, middle: Rows, near: number): number[] {
  const sign = z[1] > z[0] ? 1 : -1;
  const heights = Float64Array.from(z, (height) => sign * height);
  const slopesX = new Float64Array(x.length);
  const slopesY = new Float64Array(y.length);
  for (let i = 0; i < COLUMNS; i++) {
    splineSlopes(heights, 0, z.length, x, slopesX, i, COLUMNS, 'free');
    splineSlopes(heights, 0, z.length, y, slopesY, i, COLUMNS, 'free');
  }
  const wide: number[] = [];
  for (let k = 0; k + 1 < z.length; k++) {
    const h = heights[k + 1] - heights[k];
    const t = (sign * middle.z[k] - heights[k]) / h;
    const between = (values: Float64Array, slopes: Float64Array, i: number): number => {
      const [a, b] = [k * COLUMNS + i, (k + 1) * COLUMNS + i];
      const rise = values[b] - values[a];
      const turn = (1 - t) * (slopes[a] * h - rise) + t * (rise - slopes[b] * h);
      return values[a] + t * rise + t * (1 - t) * turn;
    };
    for (let i = 0; i < COLUMNS; i++) {
      const m = k * COLUMNS + i;
      const apart = Math.hypot(between(x, slopesX, i) - middle.x[m], between(y, slopesY, i) - middle.y[m]);
      if (apart <= near) continue;
      wide.push(k);
      break;
    }
  }
  return wide;
}

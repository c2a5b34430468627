import type { Outline } from '../model/outline.ts';
import { contourAt, contourPoint } from './contour.ts';

/** Equally spaced places of an arc from which the feet of points on it are looked for. */
export interface ArcStarts {
  /** Parameters and places (mm), those of the arc's ends first and last. */
  t: Float64Array;
  x: Float64Array;
  y: Float64Array;
}

/** Points of an arc. */
export interface PointsOfArc {
  /** x0, y0, … (mm) */
  near: Float64Array;
  /** Parameter of the place nearest to each. */
  guess: Float64Array;
}

/** Returns `parts` + 1 places of an outline from one parameter to another. */
export function arcStarts(outline: Outline, from: number, to: number, parts: number): ArcStarts {
  const [t, x, y] = [new Float64Array(parts + 1), new Float64Array(parts + 1), new Float64Array(parts + 1)];
  const place = contourPoint();
  for (let k = 0; k <= parts; k++) {
    t[k] = from + ((to - from) * k) / parts;
    contourAt(outline, t[k], place);
    x[k] = place.x;
    y[k] = place.y;
  }
  return { t, x, y };
}

/** Returns the points whose nearest place is none of the arc's ends, with that place. */
export function pointsOfArc({ t, x, y }: ArcStarts, points: Float64Array): PointsOfArc {
  const end = t.length - 1;
  const near = new Float64Array(points.length);
  const guess = new Float64Array(points.length >> 1);
  let count = 0;
  for (let i = 0; i < points.length; i += 2) {
    const px = points[i];
    const py = points[i + 1];
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let k = 0; k <= end; k++) {
      const square = (px - x[k]) * (px - x[k]) + (py - y[k]) * (py - y[k]);
      if (square < least) {
        least = square;
        best = k;
      }
    }
    if (best === 0 || best === end) continue;
    near[2 * count] = px;
    near[2 * count + 1] = py;
    guess[count++] = t[best];
  }
  return { near: near.slice(0, 2 * count), guess: guess.slice(0, count) };
}

/**
 * Returns the points x0, y0, … (mm) that a shift of all of them by at most `shift` (mm) can make points of the arc. The
 * others stay nearer to one of its ends than to any place between: they keep off the line midway by more than the shift.
 */
export function pointsNearArc({ t, x, y }: ArcStarts, points: Float64Array, shift: number): Float64Array {
  const end = t.length - 1;
  const kept = new Float64Array(points.length);
  let count = 0;
  const staysAt = (e: number, i: number): boolean => {
    const px = points[i];
    const py = points[i + 1];
    for (let k = 1; k < end; k++) {
      const dx = x[k] - x[e];
      const dy = y[k] - y[e];
      const ahead = (px - 0.5 * (x[k] + x[e])) * dx + (py - 0.5 * (y[k] + y[e])) * dy;
      if (!(ahead < 0 && ahead * ahead > shift * shift * (dx * dx + dy * dy))) return false;
    }
    return true;
  };
  for (let i = 0; i < points.length; i += 2) {
    if (staysAt(0, i) || staysAt(end, i)) continue;
    kept[count++] = points[i];
    kept[count++] = points[i + 1];
  }
  return kept.slice(0, count);
}

import { type BentCurve, bendAt, headingAt, pointAt } from './edge-g2-spline.ts';

/** What a smooth edge shall keep besides its ends and the nose line. */
export interface EdgeWish {
  /** Width along the nose line at a distance under it (mm). */
  thickness?: { setback: number; value: number };
  /** Place of the nose along the nose line (mm from its point, in the direction that the curve runs over the nose). */
  noseAlong?: number;
}

/** How far a curve is from what is wished of it. */
export interface Wishes {
  /** What is missing from each wish (mm; the turn as length), and its derivatives by the free unknowns. */
  miss: number[];
  rates: Float64Array[];
  /** Parameter of the nose. */
  noseAt: number;
}

const NOSE_HEADING = 1.5 * Math.PI;

/**
 * Returns how far a curve is from its wishes: whole turn, end point, touching the nose line, and those of `wish`; null
 * where its nose or set-back cannot be found. Unknowns: all coefficients but the first and last, then the length.
 */
export function wishes(curve: BentCurve, end: { x: number; y: number }, turn: number, wish: EdgeWish): Wishes | null {
  const n = curve.spline.count;
  const row = () => new Float64Array(n + 1);
  const headingRates = row();
  const heading = headingAt(curve, 1, headingRates);
  const [endX, endY] = [row(), row()];
  const [x, y] = pointAt(curve, 1, endX, endY);
  const noseAt = nosePlace(curve);
  if (noseAt === null) return null;
  const [noseX, noseY] = [row(), row()];
  const [depth, across] = pointAt(curve, noseAt, noseX, noseY);
  const miss = [heading - curve.heading - turn, x - end.x, y - end.y, depth];
  const rates = [headingRates, endX, endY, noseX];
  if (wish.noseAlong !== undefined) {
    // The nose moves along the curve when the heading there changes; the curve runs towards −across.
    const turned = row();
    headingAt(curve, noseAt, turned);
    const bend = bendAt(curve, noseAt)[0];
    for (let i = 0; i <= n; i++) noseY[i] += turned[i] / bend;
    miss.push(across + wish.noseAlong);
    rates.push(noseY);
  }
  if (wish.thickness) {
    const { setback, value } = wish.thickness;
    const first = placeAtDepth(curve, 0, noseAt, setback);
    const second = placeAtDepth(curve, noseAt, 1, setback);
    if (!first || !second) return null;
    miss.push(first.across - second.across - value);
    rates.push(first.rates.map((rate, i) => rate - second.rates[i]));
  }
  return { miss, rates: rates.map((rate) => freeOf(rate, n)), noseAt };
}

/** Returns where a curve runs along the nose line, or null. */
export function nosePlace(curve: BentCurve): number | null {
  const rates = new Float64Array(curve.spline.count + 1);
  return crossing(0, 1, (s) => headingAt(curve, s, rates) - NOSE_HEADING);
}

function freeOf(rates: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n - 1);
  out.set(rates.subarray(1, n - 1));
  out[n - 2] = rates[n];
  return out;
}

function placeAtDepth(curve: BentCurve, from: number, to: number, depth: number) {
  const n = curve.spline.count;
  const [ratesX, ratesY] = [new Float64Array(n + 1), new Float64Array(n + 1)];
  const at = crossing(from, to, (s) => pointAt(curve, s, ratesX, ratesY)[0] - depth);
  if (at === null) return null;
  const [, across] = pointAt(curve, at, ratesX, ratesY);
  const heading = headingAt(curve, at, new Float64Array(n + 1));
  const slope = Math.tan(heading);
  return { across, rates: ratesY.map((rate, i) => rate - slope * ratesX[i]) };
}

/** A root of a function of the parameter between two places, or null: halving with secants (Illinois' rule). */
function crossing(from: number, to: number, of: (s: number) => number): number | null {
  let [a, b] = [from, to];
  let [fa, fb] = [of(a), of(b)];
  if (fa * fb > 0) return null;
  for (let step = 0; step < 100; step++) {
    const s = b - (fb * (b - a)) / (fb - fa);
    const f = of(s);
    if (Math.abs(f) < 1e-15 || Math.abs(b - a) < 1e-15) return s;
    if (f * fb < 0) [a, fa] = [b, fb];
    else fa /= 2;
    [b, fb] = [s, f];
  }
  return b;
}

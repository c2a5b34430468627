import type { EdgePlaces } from './edge-places.ts';

/** Departures from a shape up to this share of its radius show where it ends. */
const NEAR = 0.2;
/** Places beyond the end that are looked at, at least and at most. */
const FEWEST = 6;
const MOST = 60;
/** Share of the arc before its end in which the joint may lie. */
const BEFORE = 0.12;
/** Steps of the search, first over all, then about the best. */
const STEPS = 40;

/** Distance (mm, signed) of place `k` from the shape, and arc length (mm) of places from the nose. */
export interface Departures {
  at: (k: number) => number | null;
  length: Float64Array;
}

/**
 * Returns the arc length at which an outline leaves a shape with a jump of curvature: the departures beyond the joint are
 * a square and a cube of the length past it, zero before; least squares over the place of the joint. Null where there are
 * too few places, or no jump stands out of the noise.
 * @param end index of the last place on the arc; `way` 1 or −1 leads outward
 * @param first index of the first place on the arc
 * @param sigma standard deviation of a point (mm)
 */
export function jointAt(
  places: EdgePlaces,
  departures: Departures,
  first: number,
  end: number,
  way: 1 | -1,
  radius: number,
  sigma: number,
): number | null {
  const { length } = departures;
  const inside = Math.ceil(BEFORE * (Math.abs(end - first) + 1));
  const s: number[] = [];
  const d: number[] = [];
  const w: number[] = [];
  for (let j = -inside; j <= MOST; j++) {
    const k = end + way * j;
    if (k < 0 || k >= length.length) break;
    const off = departures.at(k);
    if (off === null || (Math.abs(off) > NEAR * radius && j >= FEWEST)) break;
    s.push(way * length[k]);
    d.push(off);
    w.push(places.weight[k]);
  }
  const beyond = s.length - inside - 1;
  if (beyond < FEWEST) return null;
  let low = s[0];
  let high = s[s.length - 1 - (FEWEST >> 1)];
  const plain = misfit(s, d, w, Number.POSITIVE_INFINITY);
  let best = { at: high, cost: Number.POSITIVE_INFINITY };
  for (let round = 0; round < 2; round++) {
    for (let step = 0; step <= STEPS; step++) {
      const at = low + ((high - low) * step) / STEPS;
      const cost = misfit(s, d, w, at);
      if (cost < best.cost) best = { at, cost };
    }
    const step = (high - low) / STEPS;
    low = best.at - step;
    high = best.at + step;
  }
  return plain - best.cost > 25 * sigma * sigma ? way * best.at : null;
}

/** Weighted squares of departures left when those past a joint are a (s − joint)² + b (s − joint)³. */
function misfit(s: readonly number[], d: readonly number[], w: readonly number[], joint: number): number {
  let [qq, qc, cc, qd, cd, dd] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < s.length; i++) {
    dd += w[i] * d[i] * d[i];
    const past = s[i] - joint;
    if (!(past > 0)) continue;
    const q = past * past;
    const c = q * past;
    qq += w[i] * q * q;
    qc += w[i] * q * c;
    cc += w[i] * c * c;
    qd += w[i] * q * d[i];
    cd += w[i] * c * d[i];
  }
  const det = qq * cc - qc * qc;
  if (!(det > 1e-12 * qq * cc)) return dd;
  const a = (qd * cc - qc * cd) / det;
  const b = (qq * cd - qc * qd) / det;
  return dd - a * qd - b * cd;
}

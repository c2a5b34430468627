import { lowerBound } from '../math/lower-bound.ts';
import type { Outline } from '../model/outline.ts';
import type { Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';
import { outlineThroughColumns } from './outline-through-columns.ts';

/** Fewest points a local plane is fitted to. */
const LEAST_POINTS = 10;
/** Fewest points on either side, so that the plane is read between points, never beyond them. */
const LEAST_BESIDE = 4;
/** Slopes are fitted where the points' variance is at least this share of the window's square. */
const LEAST_SPREAD = 0.02;

/** Points about a section, in order of rising `u`. */
interface Band {
  u: Float64Array;
  height: Float64Array;
  deviation: Float64Array;
}

/**
 * Returns the outline of a surface at a height, shifted along its normals to where the given points lie: at every
 * column a plane in (u, height) is fitted to the deviations nearby (tricube weights) and read at the column.
 * @param pick indices of points of the relation about the height
 */
export function shiftedOutline(
  surface: NominalSurface,
  relation: Relation,
  pick: ArrayLike<number>,
  height: number,
): Outline {
  const band = bandOf(relation, pick);
  const { columns } = surface;
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const last = columns.length - 1;
  const { outline } = outlineThroughColumns(surface, (c, out) => {
    const before = c > 0 ? columns[c] - columns[c - 1] : columns[last] - columns[last - 1];
    const spacing = Math.max(before, columns[c + 1] - columns[c]);
    const deviation = localDeviation(band, columns[c], height, spacing, columns[last] - columns[0]);
    evaluateSurface(surface, columns[c], height, place);
    placeNormal(surface, place, normal);
    evaluateSurface(surface, columns[c], height - deviation * normal[2], place);
    out[0] = place[0] + deviation * normal[0];
    out[1] = place[1] + deviation * normal[1];
  });
  return outline;
}

function bandOf(relation: Relation, pick: ArrayLike<number>): Band {
  const order = Uint32Array.from(pick);
  order.sort((a, b) => relation.u[a] - relation.u[b] || a - b);
  return {
    u: Float64Array.from(order, (i) => relation.u[i]),
    height: Float64Array.from(order, (i) => relation.height[i]),
    deviation: Float64Array.from(order, (i) => relation.deviation[i]),
  };
}

/** Weighted plane through the deviations about (u, height), read there; `turn` is the length of one turn of `u`. */
function localDeviation(band: Band, u: number, height: number, spacing: number, turn: number): number {
  const count = band.u.length;
  const start = lowerBound(band.u, u);
  const reach = (k: number): number => {
    const i = ((k % count) + count) % count;
    return band.u[i] + turn * Math.floor(k / count) - u;
  };
  let from = start;
  let to = start;
  while (to - from < count) {
    const left = -reach(from - 1);
    const right = reach(to);
    const beside = Math.min(start - from, to - start);
    if (to - from >= LEAST_POINTS && beside >= LEAST_BESIDE && Math.min(left, right) > spacing) break;
    if (left < right) from--;
    else to++;
  }
  const width = 1.000001 * Math.max(-reach(from), reach(to - 1), 1e-12);
  const m = new Float64Array(9);
  for (let k = from; k < to; k++) {
    const i = ((k % count) + count) % count;
    const a = reach(k) / width;
    const b = (band.height[i] - height) / width;
    const w = (1 - Math.abs(a) ** 3) ** 3;
    const d = w * band.deviation[i];
    m[0] += w;
    m[1] += w * a;
    m[2] += w * b;
    m[3] += w * a * a;
    m[4] += w * a * b;
    m[5] += w * b * b;
    m[6] += d;
    m[7] += d * a;
    m[8] += d * b;
  }
  const [w, wa, wb, aa, ab, bb, d, da, db] = m;
  const ca = aa - (wa * wa) / w;
  const cab = ab - (wa * wb) / w;
  const cb = bb - (wb * wb) / w;
  const ra = da - (wa * d) / w;
  const rb = db - (wb * d) / w;
  const det = ca * cb - cab * cab;
  if (!(det > 1e-3 * ca * cb) || ca < LEAST_SPREAD * w) return d / w;
  const slopeA = (ra * cb - rb * cab) / det;
  const slopeB = (rb * ca - ra * cab) / det;
  return (d - slopeA * wa - slopeB * wb) / w;
}

import { movePoints } from '../math/rigid.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import type { Descent, DescentRoom } from './coarse-descent.ts';
import type { LookUp } from './near-field.ts';
import { cellOf, surfaceCells } from './surface-cells.ts';

const BINS_AROUND = 24;
const BINS_ALONG = 12;

/** The nominal's facets gathered in patches over (position along the outline, height), with the area of each. */
export interface Patches {
  ofFacet: Int32Array;
  /** mm² */
  area: Float64Array;
  total: number;
}

/** Returns the patches of a nominal. */
export function nominalPatches(target: NominalTarget): Patches {
  const { mesh, vertexU, vertexHeight, surface } = target;
  const { positions: p, triangles: t } = mesh;
  const ofFacet = new Int32Array(t.length / 3);
  const area = new Float64Array(BINS_AROUND * BINS_ALONG);
  const cells = surfaceCells(surface, BINS_AROUND, BINS_ALONG);
  let total = 0;
  for (let f = 0; f < ofFacet.length; f++) {
    const v = [t[3 * f], t[3 * f + 1], t[3 * f + 2]];
    const u = (vertexU[v[0]] + vertexU[v[1]] + vertexU[v[2]]) / 3;
    const z = (vertexHeight[v[0]] + vertexHeight[v[1]] + vertexHeight[v[2]]) / 3;
    ofFacet[f] = cellOf(cells, u, z);
    const e = [0, 1, 2].map((c) => p[3 * v[1] + c] - p[3 * v[0] + c]);
    const g = [0, 1, 2].map((c) => p[3 * v[2] + c] - p[3 * v[0] + c]);
    const a = 0.5 * Math.hypot(e[1] * g[2] - e[2] * g[1], e[2] * g[0] - e[0] * g[2], e[0] * g[1] - e[1] * g[0]);
    area[ofFacet[f]] += a;
    total += a;
  }
  return { ofFacet, area, total };
}

/** How well a placement accounts for the points and for the nominal. */
export interface ExplainedPart {
  /** Share of the points within reach, each counted 1 − (distance / reach)². */
  measured: number;
  /** Share of the nominal's area with such a point. */
  nominal: number;
  /** Mean of the measured share over several reaches from coarse to fine, less where hardly any nominal is explained. */
  score: number;
  /** Distance of each point to the nominal less the uniform offset (mm); points at an end of the span negative. */
  distance: Float64Array;
}

/** Finer reaches, as shares of the widest. */
const FINER = [1, 0.25, 0.0625];
/** Share of the nominal that is enough to stand on. */
const ENOUGH = 0.15;

/** Returns what a placement explains of the first `count` points; `look` must name facets. */
export function explainedPart(
  look: LookUp,
  points: Float64Array,
  count: number,
  at: Descent,
  reach: number,
  patches: Patches,
  room: DescentRoom,
): ExplainedPart {
  const { moved, nearest } = room;
  movePoints(at.pose, points.subarray(0, 3 * count), moved);
  look(moved, count, nearest);
  const distance = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let square = 0;
    let along = 0;
    for (let c = 3 * i; c < 3 * i + 3; c++) {
      const d = moved[c] - nearest.point[c];
      square += d * d;
      along += d * nearest.normal[c];
    }
    const off = Math.abs(Math.sqrt(square) - (along < 0 ? -at.offset : at.offset));
    distance[i] = nearest.border[i] ? -off : off;
  }
  const shares = FINER.map((part) => sharesWithin(distance, part * reach, patches, nearest.triangle));
  const [{ measured, nominal }] = shares;
  const score =
    shares.reduce((sum, s) => sum + s.measured * Math.sqrt(Math.min(1, s.nominal / ENOUGH)), 0) / shares.length;
  return { measured, nominal, score, distance };
}

function sharesWithin(distance: Float64Array, reach: number, patches: Patches, facets: Int32Array) {
  const best = new Float64Array(patches.area.length);
  let sum = 0;
  for (let i = 0; i < distance.length; i++) {
    const gain = 1 - (distance[i] / reach) ** 2;
    if (!(distance[i] >= 0 && gain > 0)) continue;
    sum += gain;
    const patch = patches.ofFacet[facets[i]];
    if (gain > best[patch]) best[patch] = gain;
  }
  let covered = 0;
  for (let k = 0; k < best.length; k++) covered += best[k] * patches.area[k];
  return { measured: sum / distance.length, nominal: covered / patches.total };
}

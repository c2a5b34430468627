import { movePoints } from '../math/rigid.ts';
import type { Pose } from '../model/pose.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import type { DescentRoom } from './coarse-descent.ts';
import type { LookUp } from './near-field.ts';

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
  const low = surface.heights[0];
  const span = surface.heights[surface.heights.length - 1] - low;
  let total = 0;
  for (let f = 0; f < ofFacet.length; f++) {
    const v = [t[3 * f], t[3 * f + 1], t[3 * f + 2]];
    const u = (vertexU[v[0]] + vertexU[v[1]] + vertexU[v[2]]) / 3;
    const z = (vertexHeight[v[0]] + vertexHeight[v[1]] + vertexHeight[v[2]]) / 3;
    const i = Math.min(BINS_AROUND - 1, Math.max(0, Math.floor(((u + 1) / 2) * BINS_AROUND)));
    const j = Math.min(BINS_ALONG - 1, Math.max(0, Math.floor(((z - low) / span) * BINS_ALONG)));
    ofFacet[f] = i * BINS_ALONG + j;
    const e = [0, 1, 2].map((c) => p[3 * v[1] + c] - p[3 * v[0] + c]);
    const g = [0, 1, 2].map((c) => p[3 * v[2] + c] - p[3 * v[0] + c]);
    const a = 0.5 * Math.hypot(e[1] * g[2] - e[2] * g[1], e[2] * g[0] - e[0] * g[2], e[0] * g[1] - e[1] * g[0]);
    area[ofFacet[f]] += a;
    total += a;
  }
  return { ofFacet, area, total };
}

/** How well a pose accounts for the points and for the nominal. */
export interface ExplainedPart {
  /** Share of the points, each counted 1 − (distance / reach)². */
  measured: number;
  /** Share of the nominal's area with such a point. */
  nominal: number;
  /** Distance of each point to the nominal (mm); points at an end of the span negative. */
  distance: Float64Array;
}

/** Returns what a pose explains of the first `count` points; `look` must name facets. */
export function explainedPart(
  look: LookUp,
  points: Float64Array,
  count: number,
  pose: Pose,
  reach: number,
  patches: Patches,
  room: DescentRoom,
): ExplainedPart {
  const { moved, nearest } = room;
  movePoints(pose, points.subarray(0, 3 * count), moved);
  look(moved, count, nearest);
  const best = new Float64Array(patches.area.length);
  const distance = new Float64Array(count);
  let sum = 0;
  for (let i = 0; i < count; i++) {
    let square = 0;
    for (let c = 3 * i; c < 3 * i + 3; c++) square += (moved[c] - nearest.point[c]) ** 2;
    distance[i] = nearest.border[i] ? -Math.sqrt(square) : Math.sqrt(square);
    const gain = 1 - square / (reach * reach);
    if (nearest.border[i] || !(gain > 0)) continue;
    sum += gain;
    const patch = patches.ofFacet[nearest.triangle[i]];
    if (gain > best[patch]) best[patch] = gain;
  }
  let covered = 0;
  for (let k = 0; k < best.length; k++) covered += best[k] * patches.area[k];
  return { measured: sum / count, nominal: covered / patches.total, distance };
}

import { type NeighbourGrid, nearestPoints, neighbourGrid } from './neighbour-grid.ts';

/** Points gathered into nodes a few noise widths apart. */
export interface ThinnedPoints {
  /** Node of each point. */
  node: Int32Array;
  /** Mean of each node's points, x0, y0, … (mm). */
  points: Float64Array;
  /** Direction of each node, up to sign. */
  tangents: Float64Array;
  /** Outward normals of the nodes, when the points have them. */
  normals: Float64Array | null;
}

/** Half width of a node across the outline, in half lengths. */
const ACROSS = 1.25;
/** A node with less than this share of the median number of points is a left-over. */
const FEW = 0.4;

/**
 * Gathers points into nodes: each point not yet taken starts one and takes its neighbours within `reach` along its
 * direction and a little more across, on the same side when normals are known. A node of few points then joins a full one beside it.
 * @param reach half length of a node (mm); 0 makes every point a node
 */
export function thinPoints(
  grid: NeighbourGrid,
  tangents: Float64Array,
  normals: Float64Array | null,
  reach: number,
): ThinnedPoints {
  const { points, minX, minY, cell, columns, rows, start, items } = grid;
  const count = points.length >> 1;
  const node = new Int32Array(count).fill(-1);
  const sums: number[] = [];
  const sizes: number[] = [];
  const nodeTangents: number[] = [];
  const nodeNormals: number[] = [];
  const cells = (value: number, limit: number) => Math.min(limit - 1, Math.max(0, Math.floor(value / cell)));
  for (let i = 0; i < count; i++) {
    if (node[i] >= 0) continue;
    const x = points[2 * i];
    const y = points[2 * i + 1];
    const tx = tangents[2 * i];
    const ty = tangents[2 * i + 1];
    const id = nodeTangents.length >> 1;
    let sx = 0;
    let sy = 0;
    let used = 0;
    for (let r = cells(y - reach - minY, rows); r <= cells(y + reach - minY, rows); r++) {
      for (let c = cells(x - reach - minX, columns); c <= cells(x + reach - minX, columns); c++) {
        for (let k = start[r * columns + c]; k < start[r * columns + c + 1]; k++) {
          const j = items[k];
          const dx = points[2 * j] - x;
          const dy = points[2 * j + 1] - y;
          const near = Math.abs(dx * tx + dy * ty) <= reach && Math.abs(dy * tx - dx * ty) <= ACROSS * reach;
          if (j !== i && (node[j] >= 0 || !near || (normals && opposed(normals, i, j)))) continue;
          node[j] = id;
          sx += points[2 * j];
          sy += points[2 * j + 1];
          used++;
        }
      }
    }
    sums.push(sx / used, sy / used);
    sizes.push(used);
    nodeTangents.push(tx, ty);
    if (normals) nodeNormals.push(normals[2 * i], normals[2 * i + 1]);
  }
  const nodes: ThinnedPoints = {
    node,
    points: Float64Array.from(sums),
    tangents: Float64Array.from(nodeTangents),
    normals: normals ? Float64Array.from(nodeNormals) : null,
  };
  return mergeFew(nodes, sizes, 2 * reach);
}

/** Gives the points of left-over nodes to the nearest full node within `reach`, and renumbers. */
function mergeFew(nodes: ThinnedPoints, sizes: readonly number[], reach: number): ThinnedPoints {
  const count = sizes.length;
  const usual = sizes.slice().sort((a, b) => a - b)[count >> 1];
  const few = FEW * usual;
  if (usual < 3) return nodes;
  const grid = neighbourGrid(nodes.points);
  const goal = Int32Array.from({ length: count }, (_, i) => i);
  for (let i = 0; i < count; i++) {
    if (sizes[i] >= few) continue;
    const full = (j: number) => sizes[j] >= few && !(nodes.normals && opposed(nodes.normals, i, j));
    const near = nearestPoints(grid, i, 1, full)[0];
    if (near === undefined) continue;
    const dx = nodes.points[2 * near] - nodes.points[2 * i];
    const dy = nodes.points[2 * near + 1] - nodes.points[2 * i + 1];
    if (Math.hypot(dx, dy) <= reach) goal[i] = near;
  }
  const kept = [...goal.keys()].filter((i) => goal[i] === i);
  const renumbered = new Int32Array(count);
  kept.forEach((i, k) => {
    renumbered[i] = k;
  });
  const pick = (values: Float64Array) => Float64Array.from(kept.flatMap((i) => [values[2 * i], values[2 * i + 1]]));
  return {
    node: nodes.node.map((i) => renumbered[goal[i]]),
    points: pick(nodes.points),
    tangents: pick(nodes.tangents),
    normals: nodes.normals ? pick(nodes.normals) : null,
  };
}

/** True when two normals point to opposite sides. */
export function opposed(normals: Float64Array, i: number, j: number): boolean {
  return normals[2 * i] * normals[2 * j] + normals[2 * i + 1] * normals[2 * j + 1] <= 0;
}

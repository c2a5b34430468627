import { nearestPoints, neighbourGrid } from './neighbour-grid.ts';
import { opposed, type ThinnedPoints } from './thin-points.ts';

const NEIGHBOURS = 10;
/** A link must run within 65 degrees of the direction at both its ends: it never crosses a thin edge. */
const ALONG = Math.cos((65 * Math.PI) / 180);

/**
 * Returns the nodes in order round one closed loop. Links between near neighbours that run along the local directions
 * are taken shortest first, at most two at a node and none closing a ring; the chains left are joined at their ends, the
 * least gap first.
 */
export function chainNodes(nodes: ThinnedPoints): Uint32Array {
  const { points } = nodes;
  const count = points.length >> 1;
  const links = new Int32Array(2 * count).fill(-1);
  const root = Int32Array.from({ length: count }, (_, i) => i);
  const find = (i: number) => {
    let at = i;
    while (root[at] !== at) {
      root[at] = root[root[at]];
      at = root[at];
    }
    return at;
  };
  const join = (a: number, b: number): boolean => {
    const ra = find(a);
    const rb = find(b);
    if (ra === rb || links[2 * a + 1] >= 0 || links[2 * b + 1] >= 0) return false;
    root[ra] = rb;
    links[links[2 * a] < 0 ? 2 * a : 2 * a + 1] = b;
    links[links[2 * b] < 0 ? 2 * b : 2 * b + 1] = a;
    return true;
  };
  const { from, to, order } = candidates(nodes);
  for (const k of order) join(from[k], to[k]);
  joinEnds(points, links, find, join);
  return walk(links, count);
}

/** Links to the nearest nodes along the directions; cost grows with the turn out of them. */
function candidates(nodes: ThinnedPoints): { from: number[]; to: number[]; order: Uint32Array } {
  const { points, tangents, normals } = nodes;
  const count = points.length >> 1;
  const grid = neighbourGrid(points);
  const from: number[] = [];
  const to: number[] = [];
  const cost: number[] = [];
  for (let i = 0; i < count; i++) {
    for (const j of nearestPoints(grid, i, NEIGHBOURS)) {
      if (normals && opposed(normals, i, j)) continue;
      const dx = points[2 * j] - points[2 * i];
      const dy = points[2 * j + 1] - points[2 * i + 1];
      const length = Math.hypot(dx, dy);
      const here = Math.abs(dx * tangents[2 * i] + dy * tangents[2 * i + 1]) / (length || 1);
      const there = Math.abs(dx * tangents[2 * j] + dy * tangents[2 * j + 1]) / (length || 1);
      if (length > 0 && Math.min(here, there) < ALONG) continue;
      from.push(i);
      to.push(j);
      cost.push(length * (3 - here - there));
    }
  }
  const order = Uint32Array.from(cost.keys()).sort((a, b) => cost[a] - cost[b] || a - b);
  return { from, to, order };
}

/** Joins the ends of different chains, nearest pair first. */
function joinEnds(
  points: Float64Array,
  links: Int32Array,
  find: (i: number) => number,
  join: (a: number, b: number) => boolean,
): void {
  const count = points.length >> 1;
  let ends: number[] = [];
  for (let i = 0; i < count; i++) if (links[2 * i + 1] < 0) ends.push(i);
  while (ends.length > 2) {
    const pairs: [number, number, number][] = [];
    for (const a of ends) {
      let best = -1;
      let least = Number.POSITIVE_INFINITY;
      for (const b of ends) {
        if (find(a) === find(b)) continue;
        const gap = (points[2 * a] - points[2 * b]) ** 2 + (points[2 * a + 1] - points[2 * b + 1]) ** 2;
        if (gap < least) {
          least = gap;
          best = b;
        }
      }
      if (best >= 0) pairs.push([least, a, best]);
    }
    if (pairs.length === 0) break;
    pairs.sort((p, q) => p[0] - q[0] || p[1] - q[1]);
    for (const [, a, b] of pairs) join(a, b);
    ends = ends.filter((i) => links[2 * i + 1] < 0);
  }
}

function walk(links: Int32Array, count: number): Uint32Array {
  const order = new Uint32Array(count);
  let at = 0;
  for (let i = 0; i < count; i++) {
    if (links[2 * i + 1] < 0) {
      at = i;
      break;
    }
  }
  let before = -1;
  for (let k = 0; k < count; k++) {
    order[k] = at;
    const next = links[2 * at] === before ? links[2 * at + 1] : links[2 * at];
    before = at;
    at = next;
  }
  return order;
}

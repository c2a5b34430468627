import { CamberwrightError } from '../error.ts';
import { chainNodes } from './chain-nodes.ts';
import { neighbourGrid } from './neighbour-grid.ts';
import { pointTangents } from './point-tangents.ts';
import { thinPoints } from './thin-points.ts';

/** Half length of a node in noise widths: long enough that the direction from node to node stands clear of noise. */
const NODE_REACH = 6;

/**
 * Returns the order of unorganised section points round the outline, counter-clockwise. Points are gathered into nodes
 * a few noise widths apart, the nodes are chained by links that run along the local direction (so that the two sides of
 * a thin edge are never joined), and each point takes its place along the chain. No nominal is needed.
 * @param points x0, y0, x1, … (mm), any order
 * @param normals unit outward normals, same layout; when given, links and nodes keep to one side by them as well
 * @throws `shape/section` when there are fewer than 8 points
 */
export function orderOutlinePoints(points: Float64Array, normals?: Float64Array): Uint32Array {
  const count = points.length >> 1;
  if (count < 8) {
    throw new CamberwrightError('shape/section', `Ordering needs at least 8 points; ${count} given.`, {
      remedy: 'Give more points of the section.',
    });
  }
  const grid = neighbourGrid(points);
  const { tangents, scatter } = pointTangents(grid);
  const noise = scatter.slice().sort()[count >> 1];
  const nodes = thinPoints(grid, tangents, normals ?? null, NODE_REACH * noise);
  const loop = chainNodes(nodes);
  const place = placesAlong(points, nodes.node, nodes.points, loop);
  const order = Uint32Array.from({ length: count }, (_, i) => i).sort((a, b) => place[a] - place[b] || a - b);
  if (areaOf(points, order) < 0) order.reverse();
  return order;
}

/** Place of each point along the closed chain of nodes: link number plus fraction, on the nearest of the links at its node. */
function placesAlong(points: Float64Array, node: Int32Array, nodes: Float64Array, loop: Uint32Array): Float64Array {
  const size = loop.length;
  const position = new Int32Array(size);
  for (let k = 0; k < size; k++) position[loop[k]] = k;
  const place = new Float64Array(node.length);
  for (let i = 0; i < node.length; i++) {
    const at = position[node[i]];
    let least = Number.POSITIVE_INFINITY;
    for (let link = at - 2; link <= at + 1; link++) {
      const from = loop[(link + 2 * size) % size];
      const to = loop[(link + 1 + 2 * size) % size];
      const dx = nodes[2 * to] - nodes[2 * from];
      const dy = nodes[2 * to + 1] - nodes[2 * from + 1];
      const px = points[2 * i] - nodes[2 * from];
      const py = points[2 * i + 1] - nodes[2 * from + 1];
      const f = Math.min(1, Math.max(0, (px * dx + py * dy) / (dx * dx + dy * dy || 1)));
      const gap = (px - f * dx) ** 2 + (py - f * dy) ** 2;
      if (gap >= least) continue;
      least = gap;
      place[i] = link + f;
    }
  }
  return place;
}

function areaOf(points: Float64Array, order: Uint32Array): number {
  let area = 0;
  for (let a = 0, b = order.length - 1; a < order.length; b = a++) {
    area += points[2 * order[b]] * points[2 * order[a] + 1] - points[2 * order[a]] * points[2 * order[b] + 1];
  }
  return area;
}

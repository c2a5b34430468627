/** Most triangles in a leaf. */
export const LEAF_SIZE = 4;
/** Floats a node: two child boxes (centre and half size, six each), two links, two unused. */
export const NODE_SIZE = 16;
/** Depth from which ranges are halved by count, so that no mesh can make the tree deep. */
const SAFE_DEPTH = 40;
const BINS = 16;

/** Nodes of the hierarchy over triangles. */
export interface Partition {
  /** Buffer of the nodes, NODE_SIZE words each. */
  nodes: Float32Array;
  links: Int32Array;
  count: number;
  depth: number;
}

/** Link to a leaf: negative, holds the first triangle and their number. */
export function leafLink(first: number, count: number): number {
  return -(first * 8 + count) - 1;
}

/** Smallest single-precision number at or above `v` (v ≥ 0). */
function roundUp(v: number): number {
  const f = Math.fround(v);
  return f >= v ? f : Math.fround(f + f * 1.2e-7 + 1.5e-45);
}

/** Writes the box as centre and half size, grown so that it holds the box in spite of single precision. */
function writeBox(nodes: Float32Array, at: number, box: Float64Array, from: number): void {
  for (let a = 0; a < 3; a++) {
    const lo = box[from + a];
    const hi = box[from + 3 + a];
    const centre = Math.fround(lo + 0.5 * (hi - lo));
    nodes[at + a] = centre;
    nodes[at + 3 + a] = roundUp(Math.max(hi - centre, centre - lo) * (1 + 4e-16));
  }
}

function swap(boxes: Float32Array, ids: Uint32Array, i: number, j: number): void {
  const id = ids[i];
  ids[i] = ids[j];
  ids[j] = id;
  for (let a = 6 * i, b = 6 * j, end = a + 6; a < end; a++, b++) {
    const v = boxes[a];
    boxes[a] = boxes[b];
    boxes[b] = v;
  }
}

function emptyBox(box: Float64Array, at: number): void {
  box[at] = box[at + 1] = box[at + 2] = Infinity;
  box[at + 3] = box[at + 4] = box[at + 5] = -Infinity;
}

function grow(box: Float64Array, at: number, by: ArrayLike<number>, from: number): void {
  if (by[from] < box[at]) box[at] = by[from];
  if (by[from + 1] < box[at + 1]) box[at + 1] = by[from + 1];
  if (by[from + 2] < box[at + 2]) box[at + 2] = by[from + 2];
  if (by[from + 3] > box[at + 3]) box[at + 3] = by[from + 3];
  if (by[from + 4] > box[at + 4]) box[at + 4] = by[from + 4];
  if (by[from + 5] > box[at + 5]) box[at + 5] = by[from + 5];
}

/** Half the surface of a box. */
function surface(box: Float64Array, at: number): number {
  const x = box[at + 3] - box[at];
  const y = box[at + 4] - box[at + 1];
  const z = box[at + 5] - box[at + 2];
  return x * y + y * z + z * x;
}

/** Scratch of one build. */
interface Scratch {
  /** BINS boxes and their counts. */
  bins: Float64Array;
  counts: Int32Array;
  /** Cost of everything right of a border, boxes of both sides of the chosen border. */
  rightCost: Float64Array;
  sides: Float64Array;
  run: Float64Array;
}

/** Puts the bounds of both halves of the range into `sides`. */
function boundHalves(boxes: Float32Array, from: number, middle: number, to: number, sides: Float64Array): void {
  emptyBox(sides, 0);
  emptyBox(sides, 6);
  for (let i = from; i < middle; i++) grow(sides, 0, boxes, 6 * i);
  for (let i = middle; i < to; i++) grow(sides, 6, boxes, 6 * i);
}

/** Counts and bounds the triangles of the range in BINS slabs of one axis. */
function fillBins(
  boxes: Float32Array,
  from: number,
  to: number,
  axis: number,
  low: number,
  scale: number,
  s: Scratch,
): void {
  const { bins, counts } = s;
  counts.fill(0);
  for (let b = 0; b < BINS; b++) emptyBox(bins, 6 * b);
  for (let k = 6 * from; k < 6 * to; k += 6) {
    const b = ((boxes[k + axis] + boxes[k + axis + 3] - low) * scale) | 0;
    counts[b]++;
    const at = 6 * b;
    const x0 = boxes[k];
    const y0 = boxes[k + 1];
    const z0 = boxes[k + 2];
    const x1 = boxes[k + 3];
    const y1 = boxes[k + 4];
    const z1 = boxes[k + 5];
    if (x0 < bins[at]) bins[at] = x0;
    if (y0 < bins[at + 1]) bins[at + 1] = y0;
    if (z0 < bins[at + 2]) bins[at + 2] = z0;
    if (x1 > bins[at + 3]) bins[at + 3] = x1;
    if (y1 > bins[at + 4]) bins[at + 4] = y1;
    if (z1 > bins[at + 5]) bins[at + 5] = z1;
  }
}

/** Best border between bins by surface-area cost; bounds of its sides go to `sides`. */
function bestBorder(n: number, s: Scratch): number {
  const { bins, counts, rightCost, sides, run } = s;
  emptyBox(run, 0);
  let right = 0;
  for (let b = BINS - 1; b > 0; b--) {
    if (counts[b] > 0) {
      right += counts[b];
      grow(run, 0, bins, 6 * b);
    }
    rightCost[b] = right > 0 ? surface(run, 0) * right : Infinity;
  }
  emptyBox(run, 0);
  let left = 0;
  let best = Infinity;
  let border = 1;
  for (let b = 1; b < BINS; b++) {
    if (counts[b - 1] > 0) {
      left += counts[b - 1];
      grow(run, 0, bins, 6 * (b - 1));
    }
    if (left === 0 || left === n) continue;
    const cost = surface(run, 0) * left + rightCost[b];
    if (cost < best) {
      best = cost;
      border = b;
    }
  }
  emptyBox(sides, 0);
  emptyBox(sides, 6);
  for (let b = 0; b < border; b++) if (counts[b] > 0) grow(sides, 0, bins, 6 * b);
  for (let b = border; b < BINS; b++) if (counts[b] > 0) grow(sides, 6, bins, 6 * b);
  return border;
}

/** Orders the range in two and returns the first place of the second part; bounds of both go to `s.sides`. */
function split(boxes: Float32Array, ids: Uint32Array, from: number, to: number, depth: number, s: Scratch): number {
  let x0 = Infinity;
  let y0 = Infinity;
  let z0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  let z1 = -Infinity;
  for (let k = 6 * from; k < 6 * to; k += 6) {
    const x = boxes[k] + boxes[k + 3];
    const y = boxes[k + 1] + boxes[k + 4];
    const z = boxes[k + 2] + boxes[k + 5];
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
    if (z < z0) z0 = z;
    if (z > z1) z1 = z;
  }
  const sx = x1 - x0;
  const sy = y1 - y0;
  const sz = z1 - z0;
  const axis = sx >= sy && sx >= sz ? 0 : sy >= sz ? 1 : 2;
  const low = axis === 0 ? x0 : axis === 1 ? y0 : z0;
  const size = axis === 0 ? sx : axis === 1 ? sy : sz;
  const scale = (BINS * (1 - 1e-6)) / size;
  if (depth >= SAFE_DEPTH || !(size > 0) || scale === Infinity) {
    const middle = (from + to) >> 1;
    boundHalves(boxes, from, middle, to, s.sides);
    return middle;
  }
  fillBins(boxes, from, to, axis, low, scale, s);
  const border = bestBorder(to - from, s);
  let i = from;
  let j = to - 1;
  for (;;) {
    while (i <= j && (((boxes[6 * i + axis] + boxes[6 * i + axis + 3] - low) * scale) | 0) < border) i++;
    while (i <= j && (((boxes[6 * j + axis] + boxes[6 * j + axis + 3] - low) * scale) | 0) >= border) j--;
    if (i >= j) return i;
    swap(boxes, ids, i++, j--);
  }
}

/**
 * Builds the hierarchy by binned surface-area splits along the longest axis of the centres, and reorders `boxes` and
 * `ids` so that every leaf is a run. Node links: `index` of a node, or `leafLink` of a run.
 *
 * @param boxes min x, y, z, max x, y, z of each triangle, rounded outwards; reordered.
 * @param ids triangle numbers that go with the boxes; reordered.
 */
export function partitionTriangles(boxes: Float32Array, ids: Uint32Array): Partition {
  const n = ids.length;
  const buffer = new ArrayBuffer(4 * NODE_SIZE * Math.max(1, n));
  const nodes = new Float32Array(buffer);
  const links = new Int32Array(buffer);
  const s: Scratch = {
    bins: new Float64Array(6 * BINS),
    counts: new Int32Array(BINS),
    rightCost: new Float64Array(BINS),
    sides: new Float64Array(12),
    run: new Float64Array(6),
  };
  let count = 1;
  let deepest = 1;
  // Work list of ranges: from, to, node, depth.
  const work = new Int32Array(4 * 2 * (SAFE_DEPTH + 34));
  let top = 0;
  work.set([0, n, 0, 1]);
  top = 4;
  while (top > 0) {
    top -= 4;
    const from = work[top];
    const to = work[top + 1];
    const at = NODE_SIZE * work[top + 2];
    const depth = work[top + 3];
    if (depth > deepest) deepest = depth;
    let middle = to;
    if (to - from > LEAF_SIZE) middle = split(boxes, ids, from, to, depth, s);
    else boundHalves(boxes, from, middle, to, s.sides);
    for (let side = 1; side >= 0; side--) {
      const first = side === 0 ? from : middle;
      const last = side === 0 ? middle : to;
      if (first < last) writeBox(nodes, at + 6 * side, s.sides, 6 * side);
      else nodes[at + 9] = nodes[at + 10] = nodes[at + 11] = -Infinity;
      if (last - first <= LEAF_SIZE) {
        links[at + 12 + side] = leafLink(first, last - first);
      } else {
        links[at + 12 + side] = count;
        work[top] = first;
        work[top + 1] = last;
        work[top + 2] = count++;
        work[top + 3] = depth + 1;
        top += 4;
      }
    }
  }
  return { nodes, links, count, depth: deepest };
}
